import { describe, expect, it } from 'vitest';
import {
  componentValue,
  type MeanSquareTerm,
  modifiedLargeSampleInterval,
  satterthwaiteInterval,
  type VarianceInterval,
} from '../src/control/precision/component-intervals.ts';
import { chiSquareTails, upperChiSquareQuantile } from '../src/quantity/chi-square.ts';
import { upperFisherProbability, upperFisherQuantile } from '../src/quantity/fisher.ts';
import { normalQuantile } from '../src/quantity/normal.ts';
import { seededNormal } from './simulation.ts';

/** Mean squares of a study of ten parts, three operators and three repeats, as multiples of what they expect. */
function simulatedMeanSquare(expected: number, degrees: number, normal: () => number): number {
  let sum = 0;
  for (let index = 0; index < degrees; index += 1) sum += normal() ** 2;
  return (expected * sum) / degrees;
}

interface Truth {
  readonly part: number;
  readonly operator: number;
  readonly crossing: number;
  readonly repeatability: number;
}

const [p, o, r] = [10, 3, 3];

/** Terms of part, reproducibility and gauge from one simulated study. */
function simulatedTerms(truth: Truth, normal: () => number): readonly MeanSquareTerm[][] {
  const e = truth.repeatability;
  const po = e + r * truth.crossing;
  const square = (expected: number, degreesOfFreedom: number) => ({
    meanSquare: simulatedMeanSquare(expected, degreesOfFreedom, normal),
    degreesOfFreedom,
  });
  const ms = {
    part: square(po + o * r * truth.part, p - 1),
    operator: square(po + p * r * truth.operator, o - 1),
    crossing: square(po, (p - 1) * (o - 1)),
    repeatability: square(e, p * o * (r - 1)),
  };
  const term = (coefficient: number, of: keyof typeof ms) => ({ coefficient, ...ms[of] });
  return [
    [term(1 / (o * r), 'part'), term(-1 / (o * r), 'crossing')],
    [
      term(1 / (p * r), 'operator'),
      term((p - 1) / (p * r), 'crossing'),
      term(-1 / r, 'repeatability'),
    ],
    [
      term(1 / (p * r), 'operator'),
      term((p - 1) / (p * r), 'crossing'),
      term((r - 1) / r, 'repeatability'),
    ],
  ];
}

/** Share of simulated studies whose interval holds the true component. */
function coverage(
  truth: Truth,
  method: (terms: readonly MeanSquareTerm[], confidence: number) => VarianceInterval | null,
): number[] {
  const normal = seededNormal(41);
  const trials = 1500;
  const rights = [
    truth.part,
    truth.operator + truth.crossing,
    truth.operator + truth.crossing + truth.repeatability,
  ];
  const held = [0, 0, 0];
  for (let trial = 0; trial < trials; trial += 1) {
    simulatedTerms(truth, normal).forEach((terms, index) => {
      const interval = method(terms, 0.95);
      const right = rights[index] as number;
      if (interval && interval.lower <= right && right <= interval.upper) {
        held[index] = (held[index] as number) + 1;
      }
    });
  }
  return held.map((count) => count / trials);
}

// Four standard errors of 95 % from 1500 trials.
const room = 4 * Math.sqrt((0.95 * 0.05) / 1500);

describe('modified large-sample intervals', () => {
  it.each([
    ['operators alike', { part: 1, operator: 0, crossing: 0, repeatability: 0.04 }],
    ['operators differ', { part: 1, operator: 0.05, crossing: 0.01, repeatability: 0.04 }],
    ['parts alike', { part: 0.01, operator: 0.2, crossing: 0.1, repeatability: 0.1 }],
  ])('hold their confidence: %s', (_, truth) => {
    for (const share of coverage(truth, modifiedLargeSampleInterval)) {
      expect(share).toBeGreaterThan(0.95 - room);
    }
  });

  it('are not much wider than they need to be where the operators differ', () => {
    const truth = { part: 1, operator: 0.05, crossing: 0.01, repeatability: 0.04 };
    for (const share of coverage(truth, modifiedLargeSampleInterval)) {
      expect(share).toBeLessThan(0.98);
    }
  });

  it('hold what Satterthwaite loses where one component is small beside its error', () => {
    const truth = { part: 0.01, operator: 0.2, crossing: 0.1, repeatability: 0.1 };
    const [plain = 1] = coverage(truth, satterthwaiteInterval);
    expect(plain).toBeLessThan(0.95 - room);
  });

  it('of one mean square are the exact chi-square interval, by either method', () => {
    const terms = [{ coefficient: 0.5, meanSquare: 3, degreesOfFreedom: 7 }];
    const exact = {
      lower: (7 * 1.5) / upperChiSquareQuantile(0.025, 7),
      upper: (7 * 1.5) / upperChiSquareQuantile(0.975, 7),
    };
    for (const method of [modifiedLargeSampleInterval, satterthwaiteInterval]) {
      const found = method(terms, 0.95);
      expect(found?.lower).toBeCloseTo(exact.lower, 12);
      expect(found?.upper).toBeCloseTo(exact.upper, 12);
    }
  });

  it('of a difference are exact where one of the two mean squares is nothing', () => {
    const terms = [
      { coefficient: 1, meanSquare: 5, degreesOfFreedom: 9 },
      { coefficient: -1, meanSquare: 0, degreesOfFreedom: 18 },
    ];
    const alone = modifiedLargeSampleInterval(terms.slice(0, 1), 0.9);
    const both = modifiedLargeSampleInterval(terms, 0.9);
    expect(both.lower).toBeCloseTo(alone.lower, 12);
    expect(both.upper).toBeCloseTo(alone.upper, 12);
    expect(componentValue(terms)).toBe(5);
  });

  it('of a difference start at 0 just where the F test stops seeing one', () => {
    // The lower end is exact there: it passes 0 where F equals its quantile.
    const [n, m] = [9, 18];
    const f = upperFisherQuantile(0.025, n, m);
    const lowerAt = (ratio: number) =>
      modifiedLargeSampleInterval(
        [
          { coefficient: 1, meanSquare: ratio, degreesOfFreedom: n },
          { coefficient: -1, meanSquare: 1, degreesOfFreedom: m },
        ],
        0.95,
      ).lower;
    expect(lowerAt(f * 0.999)).toBe(0);
    expect(lowerAt(f * 1.001)).toBeGreaterThan(0);
  });
});

describe('quantiles', () => {
  it('of chi-square and F undo their distributions in both tails', () => {
    for (const probability of [1e-9, 0.001, 0.05, 0.5, 0.95, 0.999]) {
      for (const degrees of [1, 2, 7, 60, 1000, 100_000]) {
        const tails = chiSquareTails(upperChiSquareQuantile(probability, degrees), degrees);
        expect(Math.abs(tails.upper / probability - 1)).toBeLessThan(1e-9);
      }
      for (const [a, b] of [
        [1, 1],
        [1, 14],
        [9, 18],
        [60, 3],
        [500, 500],
      ] as const) {
        const back = upperFisherProbability(upperFisherQuantile(probability, a, b), a, b);
        expect(Math.abs(back / probability - 1)).toBeLessThan(1e-10);
      }
    }
  });

  it('of chi-square with 1 and 2 degrees of freedom are those of the normal and the exponential', () => {
    for (const probability of [0.9, 0.3, 0.01, 1e-6]) {
      const z = normalQuantile(probability / 2);
      expect(Math.abs(upperChiSquareQuantile(probability, 1) / z ** 2 - 1)).toBeLessThan(1e-12);
      const exponential = -2 * Math.log(probability);
      expect(Math.abs(upperChiSquareQuantile(probability, 2) / exponential - 1)).toBeLessThan(
        1e-13,
      );
    }
  });

  it('of F with 2 and 2 degrees of freedom have a closed form, 1/p − 1', () => {
    for (const probability of [0.9, 0.3, 0.01, 1e-6]) {
      const exact = 1 / probability - 1;
      expect(Math.abs(upperFisherQuantile(probability, 2, 2) / exact - 1)).toBeLessThan(1e-12);
    }
  });
});
