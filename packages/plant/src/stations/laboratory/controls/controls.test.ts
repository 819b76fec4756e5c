import { calculationById, runCalculation } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import type { Calculated } from '../../../journal/calculated.ts';
import { referenceMaterialOf } from '../../registers/index.ts';
import { trialOf } from '../index.ts';
import {
  cupel,
  cutMelt,
  laboratoryTrial,
  reading,
  recorded,
  refusals,
} from '../laboratory-trial.ts';
import {
  cleanBlank,
  copper,
  differenceMethod,
  differenceRun,
  fineSilver,
  reference,
  trialWithMethod,
} from './controls-trial.ts';

const remaining = async (trial: Awaited<ReturnType<typeof laboratoryTrial>>) =>
  (await referenceMaterialOf(trial.books, 'RM-AG-1'))?.massRemainingMicrograms;

describe('the controls of a difference run', () => {
  it('are recorded with the run: edition, comparison with the certificate, mass used', async () => {
    const { trial, blanks } = await trialWithMethod();
    const [body, used] = recorded(await differenceRun(trial, { assayRun: 'D-1', blanks }));
    expect(body).toMatchObject({
      state: 'valid',
      method: { method: 'AG-DIFF', edition: 1 },
      controls: {
        references: [
          {
            referenceMaterial: 'RM-AG-1',
            taken: reading('500.000', 'mg'),
            agrees: true,
            comparisons: [
              { quantity: 'fineness', unit: '‰' },
              { quantity: 'Cu', unit: 'mg/kg' },
            ],
          },
        ],
        blanks: [{ ...cleanBlank, greatest: 1, passes: true }],
      },
    });
    const controls = body?.controls as unknown as {
      references: {
        calculated: Calculated;
        comparisons: { output: { normalizedError: number } }[];
      }[];
    };
    // 1000 − 300/1000 = 999.7 ‰, as certified: no error at all.
    expect(controls.references[0]?.comparisons[0]?.output.normalizedError).toBeCloseTo(0, 9);
    const calculated = controls.references[0]?.calculated;
    const again = runCalculation(
      calculationById(String(calculated?.calculation)),
      calculated?.input,
    );
    expect(again.outcome === 'computed' && again.output).toEqual(calculated?.output);
    expect(used).toEqual({
      referenceMaterial: 'RM-AG-1',
      massMicrograms: 500_000,
      usedFor: 'D-1',
    });
    expect(await remaining(trial)).toBe(4_500_000);
  });

  it('make the run void where a reference material does not agree; a repeated run is the way out', async () => {
    const { trial, blanks } = await trialWithMethod();
    const failing = { assayRun: 'D-1', blanks, references: [reference(320)] };
    const [body] = recorded(await differenceRun(trial, failing));
    // Cu: (320 − 300)/(2·√(5² + 5²)) = 1.41; fineness: −0.02/(2·√(0.005² + 0.005²)) = −1.41.
    expect(body).toMatchObject({
      state: 'void',
      voidReason:
        'Reference material RM-AG-1, portion RM1: fineness found 999.68 ‰, certified 999.7 ‰, Eₙ -1.41 beyond 1; Cu found 320 mg/kg, certified 300 mg/kg, Eₙ 1.41 beyond 1.',
    });
    expect(refusals(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'))).toEqual([
      'DeterminationsMissing',
    ]);
    recorded(await differenceRun(trial, { assayRun: 'D-2', blanks }));
    recorded(await trial.do('sign-result', { melt: 'M-1' }, 'assayer'));
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.runs.map((run) => [run.assayRun, run.state])).toEqual([
      ['D-1', 'void'],
      ['D-2', 'valid'],
    ]);
    expect(await remaining(trial)).toBe(4_000_000);
  });

  it('make the run void where a blank is beyond the limit of the method', async () => {
    const { trial, blanks } = await trialWithMethod();
    const controls = { blanks: [{ ...cleanBlank, value: 1.5 }] };
    const [body] = recorded(await differenceRun(trial, { assayRun: 'D-1', blanks, controls }));
    expect(body).toMatchObject({
      state: 'void',
      voidReason: 'Blank BL1: Cu 1.5 mg/kg; the greatest is 1 mg/kg.',
    });
  });

  it('take an element that was not found as lying evenly below its limit', async () => {
    const { trial, blanks } = await trialWithMethod();
    const failing = { assayRun: 'D-1', blanks, references: [reference(null)] };
    const [body] = recorded(await differenceRun(trial, failing));
    expect(body?.voidReason).toContain('Cu found 1 mg/kg, certified 300 mg/kg');
  });

  it('are refused where the method asks for a material or a blank that is not there', async () => {
    const { trial, blanks } = await trialWithMethod();
    const without = { assayRun: 'D-1', blanks, references: [] };
    expect(await differenceRun(trial, without)).toMatchObject({
      refusals: [
        {
          refusal: 'ControlMissing',
          message:
            'Fine silver by difference, edition 1, asks for 1 of reference material fine silver in every run; this one has 0.',
          figures: { kind: 'fine silver', asked: 1, there: 0 },
        },
      ],
    });
    const controls = { blanks: [] };
    expect(refusals(await differenceRun(trial, { assayRun: 'D-1', blanks, controls }))).toEqual([
      'ControlMissing',
    ]);
  });

  it('are refused with a reference material that cannot serve', async () => {
    const { trial, blanks } = await trialWithMethod();
    const refusedWith = async (change: object) =>
      refusals(
        await differenceRun(trial, {
          assayRun: 'D-1',
          blanks,
          references: [reference(300, change)],
        }),
      )[0];
    expect(await refusedWith({ referenceMaterial: 'NONE' })).toBe('ReferenceMaterialUnknown');
    expect(await refusedWith({ taken: reading('5.001', 'g') })).toBe('ReferenceMaterialUsedUp');
    expect(await refusedWith({ impurities: [copper(2_000_000)] })).toBe('InputNotAccepted');
    const receive = (change: object) =>
      trial.do('receive-reference-material', { ...fineSilver, ...change }, 'assayer');
    recorded(await receive({ referenceMaterial: 'RM-OLD', validUntil: '2026-03-01' }));
    expect(await refusedWith({ referenceMaterial: 'RM-OLD' })).toBe('ReferenceMaterialExpired');
    recorded(await receive({ referenceMaterial: 'RM-AU', metal: 'gold' }));
    expect(await refusedWith({ referenceMaterial: 'RM-AU' })).toBe('ReferenceMaterialOfOtherMetal');
    const lead = { quantity: 'Pb', value: 3, unit: 'mg/kg', standardUncertainty: 1 };
    recorded(await receive({ referenceMaterial: 'RM-PB', certified: [lead] }));
    expect(await refusedWith({ referenceMaterial: 'RM-PB' })).toBe('CertifiedValueMissing');
    const retire = { referenceMaterial: 'RM-AG-1', reason: 'The bottle broke.' };
    recorded(await trial.do('retire-reference-material', retire, 'chief'));
    expect(await refusedWith({})).toBe('ReferenceMaterialRetired');
  });

  it('are judged by Eₙ 1 and need no blank where no method is stated', async () => {
    const trial = await laboratoryTrial();
    recorded(await trial.do('receive-reference-material', fineSilver, 'assayer'));
    const { forAssay } = await cutMelt(trial, 'M-1', 'heron-31');
    const run = { blanks: forAssay.slice(0, 2), controls: { blanks: undefined } };
    const bad = { ...run, assayRun: 'D-1', references: [reference(320)] };
    expect(recorded(await differenceRun(trial, bad))[0]).toMatchObject({ state: 'void' });
    const [body] = recorded(await differenceRun(trial, { ...run, assayRun: 'D-2' }));
    expect(body).toMatchObject({ state: 'valid' });
    expect(body).not.toHaveProperty('method');
  });
});

describe('the method that governs a run', () => {
  it('must hold for the declared fineness and name the calculation of the run', async () => {
    const scope = { metal: 'silver', leastPerMille: 999.5, greatestPerMille: 999.99 };
    const outside = await trialWithMethod({ scope });
    const run = { assayRun: 'D-1', blanks: outside.blanks };
    expect(refusals(await differenceRun(outside.trial, run))).toEqual(['NoMethodInScope']);
    const other = await trialWithMethod({ calculation: 'titration' });
    const computed = { assayRun: 'D-1', blanks: other.blanks };
    expect(refusals(await differenceRun(other.trial, computed))).toEqual(['CalculationDiffers']);
  });

  it('is the newest edition; an earlier run keeps its own', async () => {
    const { trial, blanks } = await trialWithMethod();
    recorded(await differenceRun(trial, { assayRun: 'D-1', blanks: blanks.slice(0, 1) }));
    const [stated] = recorded(
      await trial.do('state-method', { ...differenceMethod, blanks: [] }, 'chief'),
    );
    expect(stated).toMatchObject({ edition: 2 });
    const controls = { blanks: [] };
    recorded(await differenceRun(trial, { assayRun: 'D-2', blanks: blanks.slice(1), controls }));
    const story = await trialOf(trial.books, 'M-1');
    expect(story?.runs.map((run) => run.worksheet)).toMatchObject([
      { method: { edition: 1 } },
      { method: { edition: 2 } },
    ]);
  });
});

describe('a reference material in the muffle', () => {
  const gold = {
    ...fineSilver,
    referenceMaterial: 'RM-AU-1',
    kind: 'gold of 22 carats',
    metal: 'gold',
    certified: [{ quantity: 'fineness', value: 916.7, unit: '‰', standardUncertainty: 0.02 }],
  };

  /** Proofs lose nothing, so that the fineness is a thousand times cornet over portion. */
  const muffle = async (cornet: string) => {
    const trial = await laboratoryTrial();
    recorded(await trial.do('receive-reference-material', gold, 'assayer'));
    const { forAssay } = await cutMelt(trial, 'M-1');
    const portions = forAssay.slice(0, 2).map((blank) => [blank, 916.9] as const);
    const references = [
      {
        label: 'RM1',
        referenceMaterial: 'RM-AU-1',
        taken: reading('250.000', 'mg'),
        cornet: reading(cornet, 'mg'),
      },
    ];
    const outcome = await cupel(trial, {
      assayRun: 'R-1',
      melt: 'M-1',
      portions,
      changes: { references },
    });
    return { trial, outcome };
  };

  it('is cupelled beside the proofs and held against its certificate', async () => {
    const { outcome } = await muffle('229.175');
    const [body, used] = recorded(outcome);
    expect(body).toMatchObject({
      state: 'valid',
      controls: { references: [{ agrees: true, readings: [{ what: 'cornet' }] }] },
    });
    expect(used).toMatchObject({ massMicrograms: 250_000 });
  });

  it('makes the run void, beside what the proofs say', async () => {
    const { outcome } = await muffle('228.500');
    const [body] = recorded(outcome);
    expect(body?.state).toBe('void');
    expect(body?.voidReason).toContain('fineness found 914 ‰, certified 916.7 ‰');
  });

  it('is refused with more gold than there is metal, naming its cornet', async () => {
    const { outcome } = await muffle('250.100');
    expect(outcome).toMatchObject({
      refusals: [{ refusal: 'ReadingsNotAccepted', field: 'references.0.cornet' }],
    });
  });
});
