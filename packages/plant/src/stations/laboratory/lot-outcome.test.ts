import { describe, expect, it } from 'vitest';
import { MemoryStore } from '../../adapters/memory-store.ts';
import { registerStations } from '../../journal/plant.ts';
import { compareBooks, rebuildInto } from '../../journal/rebuild.ts';
import type { Outcome } from '../../journal/recorder.ts';
import type { Trial } from '../../journal/trial.ts';
import { judgedLotOf } from '../receiving/index.ts';
import { receivingStation } from '../receiving/station.ts';
import { registersStation } from '../registers/station.ts';
import {
  announceMelt,
  laboratoryTrial,
  measure,
  reading,
  recorded,
  refusals,
  sampleMelt,
} from './laboratory-trial.ts';
import { laboratoryStation } from './station.ts';

const kindsOf = (outcome: Outcome): readonly string[] => {
  if (outcome.outcome === 'refused') throw new RangeError(JSON.stringify(outcome.refusals));
  return outcome.entries.map(({ kind }) => kind);
};

/** A sampled melt all of whose blanks are measured: accepted, or with two that are too thick. */
async function judgedMelt(trial: Trial, melt: string, outcome: 'accepted' | 'not accepted') {
  const { all } = await sampleMelt(trial, melt);
  recorded(await measure(trial, melt, all, { thick: outcome === 'accepted' ? 0 : 2 }));
  return all;
}

async function judgeMelts(trial: Trial, prefix: string, outcomes: string): Promise<void> {
  for (const [index, letter] of [...outcomes].entries()) {
    await judgedMelt(trial, `${prefix}${index + 1}`, letter === 'A' ? 'accepted' : 'not accepted');
  }
}

async function order(trial: Trial, melt: string) {
  await announceMelt(trial, melt);
  const outcome = await trial.do('order-samples', { consignment: `C-${melt}` }, 'inspector');
  return recorded(outcome)[0];
}

const correct = (trial: Trial, melt: string, blank: string, thickness: string) =>
  trial.do(
    'correct-measurement',
    {
      melt,
      blank,
      balance: 'B-1',
      micrometer: 'M-1',
      mass: reading('8.01', 'g'),
      diameter: reading('22.00', 'mm'),
      thickness: reading(thickness, 'mm'),
      reason: 'Read off the wrong scale.',
    },
    'inspector',
  );

const series = { supplier: 'NORTH', pieceStandard: 'lark-8' };
const resumption = { ...series, reason: 'New rolls at the supplier; shown to us on site.' };

describe('the judgement of a lot', () => {
  it('stands beside the measurement of the last blank, with plan and counts', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'L-1');
    expect(kindsOf(await measure(trial, 'L-1', all.slice(0, 12), { thick: 1 }))).toEqual([
      'BlanksMeasured',
    ]);
    const outcome = await measure(trial, 'L-1', all.slice(12));
    expect(kindsOf(outcome)).toEqual(['BlanksMeasured', 'LotJudged']);
    expect(outcome.outcome === 'recorded' && outcome.entries[1]).toMatchObject({
      station: 'receiving',
      postings: [],
      corrects: null,
      // MIL-STD-105E, Tables I and II-A: 60 pieces, level II, 4.0 %: letter E, 13 blanks, 1 and 2.
      body: {
        melt: 'L-1',
        consignment: 'C-L-1',
        supplier: 'NORTH',
        pieceStandard: 'lark-8',
        outcome: 'accepted',
        severity: 'normal',
        lotSizePieces: 60,
        blanksForPhysical: 13,
        blanksMeasured: 13,
        blanksNonconforming: 1,
        acceptanceNumber: 1,
        rejectionNumber: 2,
      },
    });
  });

  it('is corrected when a corrected measurement turns it, and only then', async () => {
    const trial = await laboratoryTrial();
    const [first = '', second = ''] = await judgedMelt(trial, 'L-1', 'not accepted');
    const judged = await judgedLotOf(trial.books, 'L-1');
    const turned = await correct(trial, 'L-1', first, '1.50');
    expect(kindsOf(turned)).toEqual(['BlanksMeasured', 'LotJudged']);
    expect(turned.outcome === 'recorded' && turned.entries[1]).toMatchObject({
      corrects: judged?.standingEntry,
      reason: 'Read off the wrong scale.',
      body: { outcome: 'accepted', blanksNonconforming: 1 },
    });
    expect(kindsOf(await correct(trial, 'L-1', second, '1.50'))).toEqual(['BlanksMeasured']);
    const stands = await judgedLotOf(trial.books, 'L-1');
    expect(stands).toMatchObject({ entry: judged?.entry, outcome: 'accepted' });
    // A second correction names the first one, not the entry that it replaced.
    recorded(await correct(trial, 'L-1', first, '3.50'));
    const back = await correct(trial, 'L-1', second, '3.50');
    expect(back.outcome === 'recorded' && back.entries[1]).toMatchObject({
      corrects: stands?.standingEntry,
      body: { outcome: 'not accepted' },
    });
  });

  it('stands beside a refusal of the melt before all blanks are measured, so that it counts', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'L-1');
    recorded(await measure(trial, 'L-1', all.slice(0, 2), { thick: 2 }));
    const ruling = { melt: 'L-1', ruling: 'refuse', reason: 'Two of two blanks are too thick.' };
    const outcome = await trial.do('rule-melt', ruling, 'chief');
    expect(kindsOf(outcome)).toEqual(['MeltRuled', 'LotJudged']);
    expect(recorded(outcome)[1]).toMatchObject({ outcome: 'not accepted', blanksMeasured: 2 });
  });

  it('is not made by a refusal for another cause, nor a second time', async () => {
    const trial = await laboratoryTrial();
    const { all } = await sampleMelt(trial, 'L-1');
    recorded(await measure(trial, 'L-1', all.slice(0, 2), { thick: 1 }));
    const refuse = (melt: string) =>
      trial.do('rule-melt', { melt, ruling: 'refuse', reason: 'Not as ordered.' }, 'chief');
    expect(kindsOf(await refuse('L-1'))).toEqual(['MeltRuled']);
    await judgedMelt(trial, 'L-2', 'not accepted');
    expect(kindsOf(await refuse('L-2'))).toEqual(['MeltRuled']);
  });
});

describe('the severity that a supplier has earned', () => {
  it('begins normal, is tightened by two lots in five, and shows in the next order', async () => {
    const trial = await laboratoryTrial();
    await judgeMelts(trial, 'N-', 'RAAAR');
    const body = await order(trial, 'T-1');
    expect(body).toMatchObject({
      severity: 'tightened',
      severityReason:
        'Tightened inspection since lot N-5: lots N-1 and N-5 were not accepted, two within 5 consecutive lots. Since then 0 of 5 lots accepted in a row, 0 of 5 not accepted.',
      // MIL-STD-105E, Table II-B: letter E at 4.0 % leads down to letter F, 20 blanks, 1 and 2.
      melts: [{ samplePieces: 20, acceptanceNumber: 1, rejectionNumber: 2 }],
    });
  });

  it('is another for another piece standard of the same supplier', async () => {
    const trial = await laboratoryTrial();
    await judgeMelts(trial, 'N-', 'RR');
    await announceMelt(trial, 'H-1', 'heron-31');
    const outcome = await trial.do('order-samples', { consignment: 'C-H-1' }, 'inspector');
    expect(recorded(outcome)[0]).toMatchObject({ severity: 'normal' });
  });

  it('is normal again where a correction shows that a lot was sound', async () => {
    const trial = await laboratoryTrial();
    await judgeMelts(trial, 'N-', 'R');
    const [first = ''] = await judgedMelt(trial, 'N-9', 'not accepted');
    recorded(await correct(trial, 'N-9', first, '1.50'));
    expect(await order(trial, 'T-1')).toMatchObject({ severity: 'normal' });
  });

  it('refuses samples once it is discontinued, until the chief assayer resumes inspection', async () => {
    const trial = await laboratoryTrial();
    expect(refusals(await trial.do('resume-inspection', resumption, 'chief'))).toEqual([
      'InspectionNotDiscontinued',
    ]);
    await judgeMelts(trial, 'N-', 'RR');
    await judgeMelts(trial, 'T-', 'RARRRR');
    await announceMelt(trial, 'W-1');
    const refused = await trial.do('order-samples', { consignment: 'C-W-1' }, 'inspector');
    expect(refused.outcome === 'refused' && refused.refusals).toMatchObject([
      {
        refusal: 'InspectionDiscontinued',
        message:
          'No sample of lark-8 from NORTH is ordered. Inspection is discontinued since lot T-6: lots T-1, T-3, T-4, T-5 and T-6 were not accepted under tightened inspection. It starts again once the cause is corrected.',
        figures: { melts: ['T-1', 'T-3', 'T-4', 'T-5', 'T-6'] },
      },
    ]);
    const desk = await trial.ask('consignment', { consignment: 'C-W-1' }, 'inspector');
    expect(desk).toMatchObject({
      next: { command: 'resume-inspection', ids: ['W-1'] },
      inspection: { severity: 'discontinued' },
    });
    expect(await receivingStation.docket?.(trial.books, '2026-03-02T07:00:00.000Z')).toMatchObject([
      { paper: 'receiving-discontinued-C-W-1', weight: 'stopped' },
    ]);
    expect(refusals(await trial.do('resume-inspection', resumption, 'inspector'))).toEqual([
      'RoleMissing',
    ]);
    const resumed = await trial.do('resume-inspection', resumption, 'chief');
    expect(resumed.outcome === 'recorded' && resumed.entries).toMatchObject([
      {
        kind: 'InspectionResumed',
        body: { ...resumption, discontinuedBy: ['T-1', 'T-3', 'T-4', 'T-5', 'T-6'] },
      },
    ]);
    const outcome = await trial.do('order-samples', { consignment: 'C-W-1' }, 'inspector');
    expect(recorded(outcome)[0]).toMatchObject({ severity: 'tightened' });
    expect(await trial.ask('inspection-series', series, 'auditor')).toMatchObject({
      severity: 'tightened',
      rows: [...Array(8).fill({ event: 'lot judged' }), { event: 'inspection resumed', melt: '' }],
    });
  });

  it('is refused for a supplier or piece standard that is not in the register', async () => {
    const trial = await laboratoryTrial();
    const unknown = { ...resumption, supplier: 'SOUTH', pieceStandard: 'wren-4' };
    expect(refusals(await trial.do('resume-inspection', unknown, 'chief'))).toEqual([
      'SupplierUnknown',
      'PieceStandardUnknown',
    ]);
    const asked = { supplier: 'SOUTH', pieceStandard: 'lark-8' };
    expect(await trial.ask('inspection-series', asked, 'chief')).toBeNull();
  });

  it('follows from the journal alone: the books made anew are equal', async () => {
    const trial = await laboratoryTrial();
    const [first = ''] = await judgedMelt(trial, 'N-1', 'not accepted');
    recorded(await correct(trial, 'N-1', first, '1.50'));
    await judgeMelts(trial, 'N-2', 'RR');
    await judgeMelts(trial, 'T-', 'RRRRR');
    recorded(await trial.do('resume-inspection', resumption, 'chief'));
    const registry = registerStations([registersStation, receivingStation, laboratoryStation]);
    const rebuilt = new MemoryStore('trial');
    await rebuildInto(trial.store, rebuilt, registry);
    const comparisons = await compareBooks(trial.store, rebuilt, registry);
    expect(comparisons.filter(({ equal }) => !equal)).toEqual([]);
    const book = comparisons.find(({ book }) => book === 'receiving_inspection_series');
    expect(book?.records).toBe(9);
  });
});
