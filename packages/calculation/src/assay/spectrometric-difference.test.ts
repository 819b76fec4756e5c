import { describe, expect, it } from 'vitest';
import { valueBetween } from './bracket.ts';
import { impurityTableCheck, impurityTableCheckCalculation } from './impurity-table-check.ts';
import {
  type SpectrometricDifferenceInput,
  spectrometricDifference,
  spectrometricDifferenceCalculation,
} from './spectrometric-difference.ts';
import { twoSolutionSum, twoSolutionSumCalculation } from './two-solution-sum.ts';

const example = spectrometricDifferenceCalculation.example;
const [silver] = example.elements as [SpectrometricDifferenceInput['elements'][number]];
const only = (change: object): SpectrometricDifferenceInput => ({
  ...example,
  elements: [{ ...silver, ...change } as SpectrometricDifferenceInput['elements'][number]],
});

describe('valueBetween', () => {
  const known = [
    { minutes: 0, value: 10 },
    { minutes: 60, value: 16 },
    { minutes: 120, value: 4 },
  ];
  it('goes in a straight line between the two nearest', () => {
    expect(valueBetween(known, 15, 't').value).toBe(11.5);
    expect(valueBetween(known, 60, 't')).toMatchObject({ value: 16, shareAfter: 0 });
    expect(valueBetween(known, 90, 't').value).toBe(10);
  });
  it('refuses a time outside', () => {
    expect(() => valueBetween(known, 121, 't')).toThrow('from 0 to 120 min');
  });
});

describe('spectrometricDifference', () => {
  it('gives a content by hand', () => {
    // Blank 604/6; checks of 1 mg/L at 98 400 and 98 500, reading 81 000 halfway; 100 mL over 1.0006 g.
    const blank = 604 / 6;
    const sensitivity = (98_400 + 98_500) / 2 - blank;
    const content = (((81_000 - blank) / sensitivity) * 100) / 1.0006;
    const [found] = spectrometricDifference(example).elements;
    expect(found?.contentMilligramsPerKilogram).toBeCloseTo(content, 9);
    // Relative parts: 1 %/√3 reading, 1 %/√2 checks, 0.5 % standards, 0.2 % volume, mass and blank small.
    const relative = Math.hypot(
      0.01 / Math.sqrt(3),
      0.01 / Math.SQRT2,
      0.005,
      0.002,
      0.0001 / 1.0006,
    );
    expect(found?.standardUncertaintyMilligramsPerKilogram).toBeCloseTo(content * relative, 4);
  });

  it('takes a drift of the sensitivity and of the internal standard out', () => {
    // The signals fade to 80 % over the hour and the internal standard with them.
    const fading = (share: number) => ({
      checks: [
        { minutes: 0, contentMilligramsPerLitre: 1, signal: 1000, internalStandardSignal: 500 },
        {
          minutes: 60,
          contentMilligramsPerLitre: 1,
          signal: 1000 * share,
          internalStandardSignal: 500 * share,
        },
      ],
      blankSignals: [0, 0.001, -0.001],
      reading: {
        minutes: 45,
        signal: 900 * share,
        internalStandardSignal: 500 * share,
        integrations: 3,
      },
    });
    const steady = spectrometricDifference(only(fading(1))).elements[0];
    const faded = spectrometricDifference(only(fading(0.8))).elements[0];
    expect(faded?.contentMilligramsPerKilogram).toBeCloseTo(
      steady?.contentMilligramsPerKilogram ?? 0,
      9,
    );
    expect(steady?.flags).toEqual([]);
  });

  it('flags drift, interference and readings below the blank', () => {
    const checks = [
      { minutes: 0, contentMilligramsPerLitre: 1, signal: 1000 },
      { minutes: 60, contentMilligramsPerLitre: 1, signal: 1100 },
    ];
    const reading = { minutes: 30, signal: 50, integrations: 3 };
    const interferences = [
      { element: 'Cu', contentMilligramsPerLitre: 10, apparentPerContent: 0.1 },
    ];
    const [found] = spectrometricDifference(only({ checks, reading, interferences })).elements;
    expect(found?.flags).toEqual([
      'interference of Cu',
      'drift over the bracket',
      'below the blank: look for contamination of it',
    ]);
    expect(found?.state).toBe('not found');
  });

  it('lets the shared part act on the whole sum', () => {
    const output = spectrometricDifference({ ...example, solutionRelativeUncertaintyPercent: 5 });
    const sum = 1e6 - 1000 * output.byPolicy.zero;
    expect(output.sharedStandardUncertaintyPerMille).toBeCloseTo((0.05 * sum) / 1000, 5);
    expect(output.standardUncertaintyPerMille).toBeCloseTo(
      Math.hypot(output.ownStandardUncertaintyPerMille, output.sharedStandardUncertaintyPerMille),
      12,
    );
  });

  it.each([
    ['the base metal as an impurity', only({ element: 'Au' }), 'other than the base metal Au'],
    [
      'a reading outside its checks',
      only({ reading: { ...silver.reading, minutes: 61 } }),
      'a time between check standards',
    ],
    [
      'a check that is not above the blank',
      only({ checks: silver.checks.map((check) => ({ ...check, signal: 90 })) }),
      'exceeds the mean blank',
    ],
    [
      'an internal standard in some readings only',
      only({ reading: { ...silver.reading, internalStandardSignal: 500 } }),
      'or in none',
    ],
    [
      'blanks without spread beside nothing found',
      only({ blankSignals: [100, 100], reading: { ...silver.reading, signal: 100 } }),
      'enough digits to differ',
    ],
  ])('refuses %s', (_, input, message) => {
    expect(() => spectrometricDifference(input)).toThrow(message);
  });
});

describe('twoSolutionSum', () => {
  const sums = twoSolutionSumCalculation.example;

  it('adds both solutions under each policy', () => {
    // Cu 30 + (0, 0.5, 1), Au 12 + the same, Pd 3.5, Fe twice (0, 0.5, 1).
    const { byPolicy, elements } = twoSolutionSum(sums);
    expect(byPolicy).toEqual({ zero: 999.9545, half: 999.9525, limit: 999.9505 });
    expect(elements.map((one) => one.found)).toEqual(['solution', 'residue', 'both', 'neither']);
  });

  it('adds errors that go together as they are, and independent ones as squares', () => {
    const both = (correlation: number) => ({
      ...sums,
      elements: sums.elements.slice(2, 3).map((one) => ({ ...one, correlation })),
    });
    const u = (correlation: number) =>
      1000 * twoSolutionSum(both(correlation)).standardUncertaintyPerMille;
    expect(u(1)).toBeCloseTo(0.1 + 0.075, 10);
    expect(u(0)).toBeCloseTo(Math.hypot(0.1, 0.075), 10);
    expect(u(-1)).toBeCloseTo(0.1 - 0.075, 10);
  });

  it('refuses more impurities than the whole', () => {
    const elements = sums.elements.map((one) => ({
      ...one,
      solution: { ...one.solution, contentMilligramsPerKilogram: 400_000 },
    }));
    expect(() => twoSolutionSum({ ...sums, elements })).toThrow('do not exceed 1000000 mg/kg');
  });
});

describe('impurityTableCheck', () => {
  const table = impurityTableCheckCalculation.example;
  const check = (change: Partial<typeof table>) => impurityTableCheck({ ...table, ...change });

  it('judges with a guard band on both sides', () => {
    const state = (contentMilligramsPerKilogram: number) =>
      check({
        groups: [],
        limits: [{ element: 'Cu', limitMilligramsPerKilogram: 50 }],
        contents: [
          {
            element: 'Cu',
            contentMilligramsPerKilogram,
            standardUncertaintyMilligramsPerKilogram: 1,
            detectionLimitMilligramsPerKilogram: 1,
          },
        ],
      }).state;
    expect([48, 48.1, 52, 52.1].map(state)).toEqual(['within', 'undecided', 'undecided', 'beyond']);
  });

  it('wants a method sensitive enough, and every element of the table', () => {
    const lead = { element: 'Pb', limitMilligramsPerKilogram: 1 };
    expect(check({ limits: [lead], groups: [] }).elements[0]?.reason).toContain('more sensitive');
    const zinc = check({ limits: [{ element: 'Zn', limitMilligramsPerKilogram: 1 }], groups: [] });
    expect(zinc.state).toBe('not determined');
    const group = check({ groups: [{ elements: ['Cu', 'Zn'], limitMilligramsPerKilogram: 90 }] });
    expect(group.groups[0]).toMatchObject({
      state: 'not determined',
      highestMilligramsPerKilogram: null,
    });
  });

  it('is as its worst line and names what has no limit', () => {
    const output = check({ limits: [{ element: 'Cu', limitMilligramsPerKilogram: 20 }] });
    expect(output.state).toBe('beyond');
    expect(output.notInTable).toEqual(['Fe']);
    expect(output.words).toContain('third, in force: beyond');
  });
});
