import { beforeEach, describe, expect, it } from 'vitest';
import type { Trial } from '../../../journal/trial.ts';
import { trialOf } from '../../laboratory/index.ts';
import {
  announceMelt,
  laboratoryTrial,
  reading,
  recorded,
} from '../../laboratory/laboratory-trial.ts';
import { blanksOfMelt, judgedLotOf, samplingOrderOf } from '../index.ts';

let trial: Trial;

beforeEach(async () => {
  trial = await laboratoryTrial();
  await announceMelt(trial, 'N-1');
});

const order = (inspection?: string) =>
  trial.do(
    'order-samples',
    { consignment: 'C-N-1', ...(inspection === undefined ? {} : { inspection }) },
    'inspector',
  );

async function drawn(): Promise<{ readonly first: string[]; readonly rest: string[] }> {
  recorded(await order('variables'));
  const gross = reading((13 * 8.01).toFixed(2), 'g');
  recorded(await trial.do('record-draw', { melt: 'N-1', gross, instrument: 'B-1' }, 'inspector'));
  const all = await blanksOfMelt(trial.books, 'N-1');
  const named = (isFirst: boolean) =>
    all.filter(({ forVariables }) => forVariables === isFirst).map(({ blank }) => blank);
  return { first: named(true), rest: named(false) };
}

/** Masses in grams, one for each blank. */
const measure = (blanks: readonly string[], masses: readonly string[]) =>
  trial.do(
    'measure-blanks',
    {
      melt: 'N-1',
      balance: 'B-1',
      micrometer: 'M-1',
      measurements: blanks.map((blank, index) => ({
        blank,
        mass: reading(masses[index] ?? '8.025', 'g'),
        diameter: reading('22.00', 'mm'),
        thickness: reading(index % 2 === 0 ? '1.50' : '1.51', 'mm'),
      })),
    },
    'inspector',
  );

const sound = ['8.021', '8.024', '8.028', '8.025', '8.022', '8.027', '8.025'];

describe('samples ordered by variables', () => {
  it('name which blanks are measured first, those for assay among them', async () => {
    const { first, rest } = await drawn();
    const ordered = await samplingOrderOf(trial.books, 'N-1');
    // Z1.9, level II, 60 pieces: letter E, 7 blanks; by attributes 13 (MIL-STD-105E, letter E).
    expect(ordered).toMatchObject({
      samplePieces: 13,
      physicalPieces: 13,
      variables: { pieces: 7, plan: { output: { codeLetter: 'E', sampleSizePieces: 7 } } },
    });
    expect([first.length, rest.length]).toEqual([7, 6]);
    const forAssay = ordered?.blanks.filter((blank) => blank.forAssay) ?? [];
    expect(forAssay).toHaveLength(2);
    expect(forAssay.every(({ forVariables }) => forVariables)).toBe(true);
  });

  it('leave every order as it was where nothing is said, and one by attributes too', async () => {
    const [body] = recorded(await order());
    expect(JSON.stringify(body)).not.toContain('ariables');
    await announceMelt(trial, 'N-2');
    const asked = { consignment: 'C-N-2', inspection: 'attributes' };
    const [other] = recorded(await trial.do('order-samples', asked, 'inspector'));
    expect(JSON.stringify(other)).not.toContain('ariables');
  });

  it('refuses where fewer blanks would not do', async () => {
    const small = {
      consignment: 'C-7',
      supplier: 'NORTH',
      document: 'Note 7',
      pieceStandard: 'lark-8',
      melts: [{ melt: 'N-7', supplierFinenessPerMille: null }],
      drums: [
        {
          drum: 'D-7',
          melt: 'N-7',
          pieces: 8,
          gross: reading('164.08', 'g'),
          tare: reading('100', 'g'),
          seal: 'S-7',
        },
      ],
    };
    recorded(await trial.do('announce-consignment', small, 'custodian'));
    const weighing = {
      drum: 'D-7',
      sealFound: 'S-7',
      gross: reading('164.08', 'g'),
      tare: reading('100', 'g'),
      instrument: 'B-1',
    };
    recorded(await trial.do('weigh-drum', weighing, 'custodian'));
    const asked = { consignment: 'C-7', inspection: 'variables' };
    // Eight pieces: 2 or 3 blanks by attributes, 3 by variables.
    expect(await trial.do('order-samples', asked, 'inspector')).toMatchObject({
      outcome: 'refused',
      refusals: [{ refusal: 'VariablesNotPossible', field: 'inspection' }],
    });
  });
});

describe('a lot measured by variables', () => {
  it('is judged once the first blanks are measured, and the trial goes on', async () => {
    const { first } = await drawn();
    recorded(await measure(first.slice(0, 6), sound));
    expect(await judgedLotOf(trial.books, 'N-1')).toBeUndefined();
    recorded(await measure(first.slice(6), sound.slice(6)));
    expect(await judgedLotOf(trial.books, 'N-1')).toMatchObject({
      outcome: 'accepted',
      byVariables: { state: 'accepted', blanksNeeded: 7 },
    });
    const found = await trialOf(trial.books, 'N-1');
    expect(found?.trial).toMatchObject({ physical: 'accepted', stage: 'to be cut' });
    const asked = { supplier: 'NORTH', pieceStandard: 'lark-8' };
    expect(await trial.ask('inspection-series', asked, 'inspector')).toMatchObject({
      severity: 'normal',
      history: { drawings: [{ kind: 'chart' }] },
    });
  });

  it('is not accepted where too much of it is estimated to lie outside', async () => {
    const { first } = await drawn();
    // Every blank is inside 8.000 to 8.050 g, and their spread says that many others are not.
    const spread = ['8.001', '8.049', '8.003', '8.046', '8.025', '8.010', '8.044'];
    recorded(await measure(first, spread));
    expect(await judgedLotOf(trial.books, 'N-1')).toMatchObject({
      outcome: 'not accepted',
      blanksNonconforming: 0,
      byVariables: { state: 'rejected' },
    });
    const found = await trialOf(trial.books, 'N-1');
    expect(found?.trial).toMatchObject({ physical: 'rejected' });
  });

  it('is rejected by blanks at fault, whatever the estimate says', async () => {
    const { first } = await drawn();
    recorded(await measure(first.slice(0, 2), ['7.999', '7.998']));
    const found = await trialOf(trial.books, 'N-1');
    expect(found?.trial).toMatchObject({ physical: 'rejected', blanksNonconforming: 2 });
  });

  it('is turned where the rest of its sample reaches the rejection number', async () => {
    const { first, rest } = await drawn();
    recorded(await measure(first, sound));
    recorded(await measure(rest, ['7.999', '7.998']));
    expect(await judgedLotOf(trial.books, 'N-1')).toMatchObject({ outcome: 'not accepted' });
  });
});
