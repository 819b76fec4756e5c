import { describe, expect, it } from 'vitest';
import { DomainError } from '../quantity/domain.ts';
import { calibrationLine } from './calibration-line.ts';
import {
  type ContentsFromSignalsInput,
  contentsFromSignals,
  contentsFromSignalsCalculation,
} from './contents-from-signals.ts';
import { spreadBetween } from './signal-spread.ts';

const { example } = contentsFromSignalsCalculation;

const standards = (signals: readonly (readonly number[])[]) =>
  signals.map((own, index) => ({
    label: `Std ${index}`,
    contentMilligramsPerKilogram: 10 * index,
    signals: [...own],
  }));

/** A line of 100 counts/s at nothing and 20 counts/s per mg/kg, without error. */
const exact: ContentsFromSignalsInput = {
  element: 'Cu',
  weighting: 'equal',
  standards: standards([[100], [300], [500]]),
  standardRelativeUncertaintyPercent: 0,
  blankSignals: [],
  drift: [],
  solutions: [{ label: 'A', readings: [{ order: 5, signal: 400 }] }],
  falseAlarmProbability: 0.05,
};

const refusal = (change: Partial<ContentsFromSignalsInput>) => {
  try {
    contentsFromSignals({ ...exact, ...change });
  } catch (error) {
    if (error instanceof DomainError) return error.field;
    throw error;
  }
  return 'nothing was refused';
};

describe('contents from signals', () => {
  it('are those of the calibration line where nothing drifts', () => {
    const { standards: known } = example;
    const solutions = [{ label: 'A', readings: [{ order: 1, signal: 9120 }] }];
    const { line, solutions: found } = contentsFromSignals({
      ...example,
      drift: [],
      solutions,
      standardRelativeUncertaintyPercent: 0,
    });
    const again = calibrationLine({
      model: 'straight line',
      weighting: 'equal',
      confidencePercent: 95,
      points: known.flatMap((one) =>
        one.signals.map((signal) => ({ content: one.contentMilligramsPerKilogram, signal })),
      ),
      readings: [{ label: 'A', signal: 9120, readings: 1 }],
    });
    expect(line.slope).toBeCloseTo(again.coefficients[1]?.estimate ?? 0, 9);
    expect((line.correlation ?? 0) ** 2).toBeCloseTo(again.determination ?? 0, 12);
    expect(found[0]?.contentMilligramsPerKilogram).toBeCloseTo(
      again.predictions[0]?.content ?? 0,
      9,
    );
    expect(found[0]?.standardUncertaintyMilligramsPerKilogram).toBeCloseTo(
      again.predictions[0]?.standardUncertainty ?? 0,
      9,
    );
  });

  it('have the drift of the sensitivity taken off, linear between readings of the drift standard', () => {
    // Sensitivity falls to 0.9 at place 9; a solution of 20 mg/kg shows 100 + 400·0.95 at place 7.
    const drift = [
      { order: 5, signals: [300] },
      { order: 9, signals: [280] },
    ];
    const solutions = [{ label: 'A', readings: [{ order: 7, signal: 480 }] }];
    const { solutions: found, drift: factors } = contentsFromSignals({
      ...exact,
      drift,
      solutions,
    });
    expect(factors.map(({ factor }) => factor)).toEqual([1, 0.9]);
    expect(found[0]?.driftFactor).toBeCloseTo(0.95, 12);
    expect(found[0]?.contentMilligramsPerKilogram).toBeCloseTo(20, 9);
  });

  it('carry the spread of the drift standard and the error that all standards share', () => {
    const noisy = standards([
      [98, 102],
      [298, 302],
      [498, 502],
    ]);
    const at = (change: Partial<ContentsFromSignalsInput>) =>
      contentsFromSignals({ ...exact, standards: noisy, ...change }).solutions[0]
        ?.standardUncertaintyMilligramsPerKilogram ?? 0;
    const bare = at({});
    // Content 15: 1 % of the standards is 0.15 mg/kg.
    expect(at({ standardRelativeUncertaintyPercent: 1 })).toBeCloseTo(Math.hypot(bare, 0.15), 12);
    // Half-way between two readings of 200 net, each with s = √(24/4) by the residuals: 1/2 and −1/2.
    const drift = [4, 6].map((order) => ({ order, signals: [300] }));
    const ofDrift = (15 * Math.hypot(0.5, 0.5) * Math.sqrt(24 / 4)) / 200;
    expect(at({ drift })).toBeCloseTo(Math.hypot(bare, ofDrift), 12);
  });

  it('have the greater of the spreads that the line and the repeated readings show', () => {
    const readings = [380, 420].map((signal, index) => ({ order: index + 1, signal }));
    const { solutions } = contentsFromSignals({ ...exact, solutions: [{ label: 'A', readings }] });
    // s = 28.28 of one reading, 20 of the mean: 1 mg/kg; the line itself is exact.
    expect(solutions[0]?.standardUncertaintyMilligramsPerKilogram).toBeCloseTo(1, 9);
    const other = { label: 'R', kind: 'reference', readings: [{ order: 3, signal: 400 }] };
    const both = [{ label: 'A', readings }, other, { ...other, label: 'C', kind: undefined }];
    const found = contentsFromSignals({ ...exact, solutions: both }).solutions;
    expect(found.map((one) => one.standardUncertaintyMilligramsPerKilogram)).toEqual([
      expect.closeTo(1, 9),
      expect.closeTo(0, 9),
      expect.closeTo(Math.SQRT2, 9),
    ]);
  });

  it('have their limits from the blanks where those differ, else from the line', () => {
    const blanks = contentsFromSignals({ ...exact, blankSignals: [98, 102] });
    expect(blanks.limitBasis).toBe('blanks');
    // By hand: s = √8 = 2.828, over 20, times √(1 + 1/2), twice t(0.95; 1) = 6.313752.
    expect(blanks.solutions[0]?.detectionLimitMilligramsPerKilogram).toBeCloseTo(
      2 * 6.313751514675043 * (Math.sqrt(8) / 20) * Math.sqrt(1.5),
      9,
    );
    expect(blanks.blankMilligramsPerKilogram).toBeCloseTo(0, 12);
    const same = contentsFromSignals({ ...exact, blankSignals: [100, 100] });
    expect(same.limitBasis).toBe('line');
  });

  it('say in words what was found and what was not', () => {
    const solutions = [
      ...example.solutions,
      { label: 'B3', readings: [{ order: 17, signal: 209 }] },
    ];
    const { words } = contentsFromSignals({ ...example, solutions });
    // (15111.5 − 213.6)/(15277 − 213.6), the drift standard net of the intercept.
    expect(words).toMatch(/^Cu: 150\.6 counts\/s per mg\/kg .* ended at 98\.9 % of its start\./);
    expect(words).toContain('B3: below the detection limit');
  });

  it('are refused where the line, the drift standard or the places do not serve', () => {
    expect(refusal({ standards: standards([[100], [300]]) })).toBe('standards');
    expect(refusal({ standards: standards([[500], [300], [100]]) })).toBe('standards');
    expect(refusal({ weighting: 'relative' })).toBe('standards.0.signals');
    const drift = [4, 6].map((order) => ({ order, signals: [300] }));
    const outside = [{ label: 'A', readings: [{ order: 7, signal: 400 }] }];
    expect(refusal({ drift, solutions: outside })).toBe('solutions.0.readings.0.order');
    const dark = drift.map((one) => ({ ...one, signals: [90] }));
    expect(refusal({ drift: dark })).toBe('drift.0.signals');
  });
});

describe('the spread at a signal', () => {
  const known = [
    { signal: 10, deviation: 1 },
    { signal: 110, deviation: 3 },
  ];

  it('is linear between the known ones, even below and proportional above them', () => {
    expect([5, 10, 60, 110, 220].map((signal) => spreadBetween(known, signal))).toEqual([
      1, 1, 2, 3, 6,
    ]);
    expect(spreadBetween([{ signal: -5, deviation: 2 }], 10)).toBe(2);
    expect(spreadBetween([], 10)).toBe(0);
  });
});
