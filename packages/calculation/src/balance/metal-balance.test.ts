import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { type MetalBalanceInput, metalBalance, metalBalanceCalculation } from './metal-balance.ts';

const example = metalBalanceCalculation.example;
const reading = (label: string, sign: 1 | -1, massGrams: number, extra: object = {}) => ({
  label,
  sign,
  count: 1,
  massGrams,
  scale: 'A',
  randomStandardDeviationGrams: 0,
  ...extra,
});
const base: MetalBalanceInput = {
  strata: [reading('in', 1, 1000), reading('out', -1, 990)],
  scales: [{ scale: 'A', gainRelativeStandardUncertainty: 1e-4 }],
  warnFactor: 2,
  actFactor: 3,
};

describe('metalBalance', () => {
  it('does as its example says', () => {
    const strata = [
      { ...reading('in', 1, 1000), count: 4, randomStandardDeviationGrams: 0.5 },
      reading('out', -1, 3990),
    ];
    const output = metalBalance({ ...base, strata });
    expect(output.differenceGrossGrams).toBe(10);
    expect(output.contributions[0]?.standardUncertaintyGrams).toBe(1);
  });

  it('finds 9.115 g for the worked shift and names the scale that explains most', () => {
    const output = metalBalance(example);
    expect(output.differenceGrossGrams).toBe(0);
    expect(output.standardUncertaintyGrams).toBeCloseTo(9.114712937, 6);
    expect(output.words).toContain('Largest share: gain R');
    expect(output.canSeeOnePiece).toBe(false);
    expect(output.onePieceAlarmProbability).toBeCloseTo(0.66, 2);
  });

  it('calls a positive difference missing and a negative one too much', () => {
    expect(metalBalance(base).words).toContain('Gross 10.000 g missing');
    const strata = [reading('in', 1, 990), reading('out', -1, 1000)];
    expect(metalBalance({ ...base, strata }).words).toContain('Gross 10.000 g too much');
  });

  it('lets the calibration of one scale cancel between what came in and what went out', () => {
    const output = metalBalance(base);
    expect(output.contributions.find((one) => one.source === 'gain A')).toMatchObject({
      lever: 10,
      leverUnit: 'g',
      standardUncertaintyGrams: 10 * 1e-4,
    });
  });

  it('does not let tares cancel when only what came in was in containers', () => {
    const strata = [
      { ...reading('in', 1, 100, { tareGroup: 'bin' }), count: 10 },
      reading('out', -1, 1000),
    ];
    const output = metalBalance({
      ...base,
      strata,
      tareGroups: [{ tareGroup: 'bin', standardDeviationGrams: 0.4 }],
    });
    expect(output.contributions.find((one) => one.source === 'tare bin')).toMatchObject({
      lever: 10,
      standardUncertaintyGrams: 4,
    });
  });

  it('multiplies the error of a zeroing by the readings that share it', () => {
    const strata = [
      { ...reading('in', 1, 100, { zeroing: 'morning' }), count: 3 },
      reading('out', -1, 300, { zeroing: 'morning' }),
    ];
    const output = metalBalance({
      ...base,
      strata,
      zeroings: [{ zeroing: 'morning', standardDeviationGrams: 0.05 }],
    });
    expect(output.contributions.find((one) => one.source === 'zero morning')).toMatchObject({
      lever: 2,
      standardUncertaintyGrams: 0.1,
    });
  });

  it('judges what the expected loss leaves unexplained, with the uncertainty of the loss', () => {
    const output = metalBalance({
      ...base,
      expectedLoss: { massGrams: 8, standardUncertaintyGrams: 0.5 },
    });
    expect(output.differenceGrossGrams).toBe(10);
    expect(output.unexplainedGrossGrams).toBe(2);
    expect(output.standardUncertaintyGrams).toBeCloseTo(Math.hypot(0.001, 0.5), 12);
    expect(output.state).toBe('act');
  });

  it('warns and acts strictly beyond the limits', () => {
    const at = (standardUncertaintyGrams: number) =>
      metalBalance({
        ...base,
        scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0 }],
        expectedLoss: { massGrams: 0, standardUncertaintyGrams },
      }).state;
    expect([5.1, 5, 4.9, 3.4, 3.3].map(at)).toEqual(['inside', 'inside', 'warn', 'warn', 'act']);
  });

  it('acts on any difference when nothing is uncertain', () => {
    const sure = { ...base, scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0 }] };
    expect(metalBalance(sure)).toMatchObject({ state: 'act', significance: null });
    const strata = [reading('in', 1, 0.3), reading('a', -1, 0.1), reading('b', -1, 0.2)];
    // 0.3 − 0.1 − 0.2 is not 0 in doubles; the account adds decimals.
    expect(metalBalance({ ...sure, strata })).toMatchObject({
      state: 'inside',
      differenceGrossGrams: 0,
    });
    expect(metalBalance({ ...sure, pieceMassGrams: 1 }).onePieceAlarmProbability).toBe(1);
  });

  it('keeps the pieces as whole numbers, apart from the grams', () => {
    const pieces = { opening: 0, received: 2000, sent: 1014, closing: 985 };
    const output = metalBalance({ ...base, pieces });
    expect(output.differencePieces).toBe(1);
    expect(output.words).toContain('The pieces do not close: 1 missing.');
    const closed = metalBalance({ ...base, pieces: { ...pieces, closing: 986 } });
    expect(closed.words).toContain('The pieces close.');
    expect(metalBalance(base).differencePieces).toBeNull();
  });

  it('splits an observed difference over its sources', () => {
    const output = metalBalance({
      ...base,
      strata: [
        { ...reading('in', 1, 1000), randomStandardDeviationGrams: 4 },
        reading('out', -1, 990, { tareGroup: 'box' }),
      ],
      scales: [{ scale: 'A', gainRelativeStandardUncertainty: 0 }],
      tareGroups: [{ tareGroup: 'box', standardDeviationGrams: 3 }],
    });
    const parts = output.contributions.map((one) => one.expectedPartGrams);
    expect(parts[0]).toBeCloseTo(6.4, 12);
    expect(parts[2]).toBeCloseTo(3.6, 12);
    expect(output.contributions.reduce((sum, one) => sum + one.sharePercent, 0)).toBeCloseTo(
      100,
      9,
    );
  });

  it('balances fine metal with the assay of each lot and the bias of the method', () => {
    const output = metalBalance({
      ...base,
      strata: [
        reading('bars in', 1, 12_000, { lot: 'bar' }),
        reading('pieces out', -1, 11_900, { lot: 'bar' }),
        reading('sweeps', -1, 250, { lot: 'sweeps' }),
      ],
      lots: [
        {
          lot: 'bar',
          finenessPerMille: 999.9,
          standardUncertaintyPerMille: 0.02,
          assayMethod: 'M',
        },
        { lot: 'sweeps', finenessPerMille: 400, standardUncertaintyPerMille: 12 },
      ],
      assayMethods: [{ assayMethod: 'M', biasStandardUncertaintyPerMille: 0.01 }],
      expectedFineLoss: { massGrams: 1, standardUncertaintyGrams: 0.1 },
    });
    // 100 g of 0.9999 in excess, less 250 g of 0.4.
    expect(output.fine?.differenceFineGrams).toBeCloseTo(99.99 - 100, 12);
    expect(output.fine?.unexplainedFineGrams).toBeCloseTo(-1.01, 12);
    const part = (source: string) =>
      output.fine?.contributions.find((one) => one.source === source)?.standardUncertaintyGrams;
    expect(part('assay of lot bar')).toBeCloseTo(100 * 2e-5, 12);
    expect(part('assay of lot sweeps')).toBeCloseTo(250 * 0.012, 12);
    expect(part('bias of M')).toBeCloseTo(100 * 1e-5, 12);
    expect(part('gain A')).toBeCloseTo(0.01 * 1e-4, 12);
    expect(output.words).toContain('Fine 1.010 g too much');
  });

  it('draws the difference against its limits and the shares as bars', () => {
    const [rule, chart] = metalBalanceCalculation.draw?.(example, metalBalance(example)) ?? [];
    expect(rule).toMatchObject({ kind: 'limit-rule', value: 0 });
    expect(chart).toMatchObject({ kind: 'chart', yTitle: 'Share, %' });
  });
});

describe('the metal-balance calculation', () => {
  const calculation = metalBalanceCalculation as unknown as Calculation;
  const [first, second] = base.strata;
  const refused: [string, string, object][] = [
    ['no stratum', 'strata', { strata: [] }],
    ['a sign of 0', 'strata.0.sign', { strata: [{ ...first, sign: 0 }] }],
    ['half a reading', 'strata.0.count', { strata: [{ ...first, count: 1.5 }] }],
    ['a negative mass', 'strata.0.massGrams', { strata: [{ ...first, massGrams: -1 }] }],
    [
      'a scale that is not listed',
      'strata.1.scale',
      { strata: [first, { ...second, scale: 'B' }] },
    ],
    [
      'a tare group that is not listed',
      'strata.0.tareGroup',
      { strata: [{ ...first, tareGroup: 'bin' }] },
    ],
    [
      'a zeroing that is not listed',
      'strata.0.zeroing',
      { strata: [{ ...first, zeroing: 'noon' }] },
    ],
    ['a lot that is not listed', 'strata.0.lot', { strata: [{ ...first, lot: 'L' }] }],
    [
      'a stratum without its lot',
      'strata.1.lot',
      {
        strata: [{ ...first, lot: 'L' }, second],
        lots: [{ lot: 'L', finenessPerMille: 999, standardUncertaintyPerMille: 0.1 }],
      },
    ],
    [
      'a method that is not listed',
      'lots.0.assayMethod',
      {
        lots: [
          { lot: 'L', finenessPerMille: 999, standardUncertaintyPerMille: 0.1, assayMethod: 'M' },
        ],
      },
    ],
    ['a scale listed twice', 'scales.1', { scales: [base.scales[0], base.scales[0]] }],
    ['a stratum label used twice', 'strata.1', { strata: [first, first] }],
    ['half a piece', 'pieces.sent', { pieces: { opening: 0, received: 1, sent: 0.5, closing: 0 } }],
    ['a warning beyond the action', 'warnFactor', { warnFactor: 4 }],
    ['NaN for a factor', 'actFactor', { actFactor: Number.NaN }],
  ];
  for (const [name, field, change] of refused) {
    it(`refuses ${name} and names the field`, () => {
      const result = runCalculation(calculation, { ...base, ...change });
      expect(result).toMatchObject({ outcome: 'refused' });
      const problems = result.outcome === 'refused' ? result.problems : [];
      expect(problems.map((problem) => problem.field)).toContain(field);
    });
  }

  it('computes its example to an output that its schema accepts', () => {
    const result = runCalculation(calculation, example);
    expect(result.outcome).toBe('computed');
    if (result.outcome === 'computed') metalBalanceCalculation.output.parse(result.output);
    expect(() => z.toJSONSchema(metalBalanceCalculation.input)).not.toThrow();
    expect(() => z.toJSONSchema(metalBalanceCalculation.output)).not.toThrow();
  });
});
