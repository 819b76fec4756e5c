import { describe, expect, it } from 'vitest';
import { methodInForce } from '../index.ts';
import { trialOfRegisters } from '../registers-trial.ts';
import { goldPiece, registerForTrial } from '../trial-registers.ts';
import { methodDocket } from './docket.ts';

/** An invented method; its figures are assumptions. */
const cupellation = {
  method: 'AU-CUP',
  title: 'Gold by cupellation',
  assayMethod: 'cupellation',
  calculation: 'cupellation',
  scope: { metal: 'gold', leastPerMille: 333, greatestPerMille: 999 },
  determinationsAtLeast: 2,
  referenceMaterials: [],
  greatestNormalizedError: 1,
  blanks: [],
  reagents: ['nitric acid 33 %'],
  cautions: ['Molten lead fumes.'],
  notes: '',
};

const names = (refusals: readonly { refusal: string }[]) => refusals.map((one) => one.refusal);

describe('a method', () => {
  it('is stated in editions, of which the newest is in force', async () => {
    const trial = await trialOfRegisters();
    expect(await trial.recorded('state-method', cupellation)).toMatchObject([
      { kind: 'MethodStated', body: { method: 'AU-CUP', edition: 1 } },
    ]);
    await trial.recorded('state-method', { ...cupellation, determinationsAtLeast: 3 });
    const run = { assayMethod: 'cupellation' as const, metal: 'gold', finenessPerMille: 916.7 };
    expect(await methodInForce(trial.books, run)).toMatchObject({
      state: 'in force',
      edition: { edition: 2, determinationsAtLeast: 3 },
    });
    expect(await methodInForce(trial.books, { ...run, finenessPerMille: 999.9 })).toMatchObject({
      state: 'outside',
      editions: [{ edition: 2 }],
    });
    expect(await methodInForce(trial.books, { ...run, metal: 'silver' })).toEqual({
      state: 'none stated',
    });
    expect(await trial.ask('method', { method: 'AU-CUP' }, 'auditor')).toMatchObject({
      calculation: { id: 'cupellation', title: 'Gold by cupellation' },
      editions: [{ edition: 2 }, { edition: 1 }],
    });
    expect(await trial.ask('method', { method: 'NONE' }, 'auditor')).toBeNull();
    const all = (await trial.ask('methods', {}, 'auditor')) as {
      methods: object[];
      calculations: { id: string }[];
    };
    expect(all.methods).toHaveLength(1);
    // Those that a run is computed by, each with what it is for and where it is published.
    expect(all.calculations).toEqual(
      ['cupellation', 'fineness-by-difference', 'titration'].map((id) =>
        expect.objectContaining({
          id,
          waysOfAssay: [id],
          purpose: expect.any(String),
          source: expect.any(String),
        }),
      ),
    );
  });

  it('needs a calculation that exists, a scope, and a signature of the chief assayer', async () => {
    const trial = await trialOfRegisters();
    const refused = async (change: object, author = 'chief') =>
      names(await trial.refused('state-method', { ...cupellation, ...change }, author));
    expect(await refused({ calculation: 'alchemy' })).toEqual(['CalculationUnknown']);
    const empty = { metal: 'gold', leastPerMille: 900, greatestPerMille: 900 };
    expect(await refused({ scope: empty })).toEqual(['InputNotAccepted']);
    expect(await refused({}, 'assayer')).toEqual(['RoleMissing']);
  });

  it('keeps its metal and way of assay, and overlaps with no other', async () => {
    const trial = await trialOfRegisters();
    await trial.recorded('state-method', cupellation);
    const silver = { ...cupellation.scope, metal: 'silver' };
    expect(names(await trial.refused('state-method', { ...cupellation, scope: silver }))).toEqual([
      'MethodIsAnother',
    ]);
    const other = { ...cupellation, method: 'AU-2' };
    expect(await trial.refused('state-method', other)).toMatchObject([
      {
        refusal: 'MethodScopesOverlap',
        message:
          'Gold by cupellation, edition 1, holds from 333 to 999 ‰; this one would hold from 333 to 999 ‰.',
      },
    ]);
    const beside = { metal: 'gold', leastPerMille: 100, greatestPerMille: 332.9 };
    await trial.recorded('state-method', { ...other, scope: beside });
  });

  it('is asked for on the docket while a piece is assayed without one', async () => {
    const trial = await trialOfRegisters();
    await registerForTrial(trial);
    expect(await methodDocket(trial.books)).toMatchObject([
      {
        what: 'State the method: fineness-by-difference of gold has none.',
        why: 'Gold piece of ten grams is assayed by it.',
        weight: 'look',
      },
    ]);
    const difference = {
      ...cupellation,
      assayMethod: goldPiece.assayMethod,
      calculation: 'fineness-by-difference',
    };
    await trial.recorded('state-method', difference);
    expect(await methodDocket(trial.books)).toMatchObject([
      {
        what: 'No method is stated for Gold piece of ten grams: 999.9 ‰ lies outside every scope.',
        weight: 'stopped',
      },
    ]);
    const scope = { metal: 'gold', leastPerMille: 999, greatestPerMille: 1000 };
    await trial.recorded('state-method', { ...difference, scope });
    expect(await methodDocket(trial.books)).toEqual([]);
  });
});
