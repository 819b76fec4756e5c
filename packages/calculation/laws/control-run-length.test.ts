import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ChartSides, cusumAverageRunLength } from '../src/control/cusum-run-length.ts';
import { ewmaAverageRunLength } from '../src/control/ewma-run-length.ts';
import {
  cusumDecisionInterval,
  shewhartAverageRunLength,
} from '../src/control/run-length-design.ts';
import {
  cusumRunLengthByMarkovChain,
  ewmaRunLengthByMarkovChain,
} from '../src/control/run-length-markov.ts';
import { pointsOfRule, type RunRule } from '../src/control/run-rules.ts';
import { seededNormal } from './simulation.ts';

const seed = 1954;

/** A chart being followed: takes a reading, answers whether it signals. */
type Follower = () => (reading: number) => boolean;

/** Mean run length of many simulated runs with its standard error; a run may have a quiet time before the shift. */
function simulate(follow: Follower, shift: number, runs: number, quiet = 0) {
  const normal = seededNormal(seed);
  let sum = 0;
  let squares = 0;
  for (let run = 0; run < runs; run += 1) {
    let next = follow();
    // A false alarm during the quiet time begins the run anew.
    for (let step = 0; step < quiet; step += 1) {
      if (next(normal())) {
        next = follow();
        step = -1;
      }
    }
    let length = 1;
    while (!next(normal() + shift)) length += 1;
    sum += length;
    squares += length * length;
  }
  const mean = sum / runs;
  return { mean, error: Math.sqrt((squares / runs - mean * mean) / runs) };
}

const cusumFollower =
  (k: number, h: number, headstart: number, sides: ChartSides): Follower =>
  () => {
    let [upper, lower] = [headstart, headstart];
    return (reading) => {
      upper = Math.max(0, upper + reading - k);
      lower = Math.max(0, lower - reading - k);
      return upper > h || (sides === 'two' && lower > h);
    };
  };

const ewmaFollower =
  (smoothing: number, factor: number, sides: ChartSides): Follower =>
  () => {
    const limit = factor * Math.sqrt(smoothing / (2 - smoothing));
    let average = 0;
    return (reading) => {
      average = (1 - smoothing) * average + smoothing * reading;
      if (sides === 'one') average = Math.max(0, average);
      return average > limit || average < -limit;
    };
  };

const ruleFollower =
  (rules: readonly RunRule[]): Follower =>
  () => {
    const past: number[] = [];
    return (reading) => {
      past.push(reading);
      if (past.length > 20) past.shift();
      const last = past.length - 1;
      return rules.some((rule) => pointsOfRule(rule, past).includes(last));
    };
  };

function expectWithin(value: number, simulated: { mean: number; error: number }): void {
  expect(Math.abs(value - simulated.mean)).toBeLessThan(4 * simulated.error);
}

describe('run lengths against simulation, four standard errors', () => {
  it.each([
    [0.5, 4, 0, 'two', 0.5],
    [0.5, 4, 2, 'two', 0.25],
    [0.25, 6, 3, 'one', 0],
    [1, 2.5, 1.25, 'two', 0],
  ] as const)(
    'cumulative sum k %f, h %f, headstart %f, %s-sided, shift %f',
    (k, h, headstart, sides, shift) => {
      const design = { referenceValue: k, decisionInterval: h, headstart, sides };
      const simulated = simulate(cusumFollower(k, h, headstart, sides), shift, 4000);
      expectWithin(cusumAverageRunLength(design, shift), simulated);
    },
  );

  it.each([
    [0.2, 2.5, 'two', 0.5],
    [0.2, 2.5, 'one', 0],
    [0.5, 2.8, 'one', 1],
  ] as const)(
    'weighted average λ %f, L %f, %s-sided, shift %f',
    (smoothing, limitFactor, sides, shift) => {
      const simulated = simulate(ewmaFollower(smoothing, limitFactor, sides), shift, 4000);
      expectWithin(ewmaAverageRunLength({ smoothing, limitFactor, sides }, shift), simulated);
    },
  );

  it('steady state of two arms and of a weighted average', () => {
    const quiet = 60;
    const arms = simulate(cusumFollower(0.5, 4, 0, 'two'), 1, 6000, quiet);
    const design = { referenceValue: 0.5, decisionInterval: 4, sides: 'two' as const };
    expectWithin(cusumAverageRunLength(design, 1, 'steady'), arms);
    const average = simulate(ewmaFollower(0.1, 2.7, 'two'), 1, 6000, quiet);
    const options = { smoothing: 0.1, limitFactor: 2.7, sides: 'two' as const };
    expectWithin(ewmaAverageRunLength(options, 1, 'steady'), average);
  });

  it.each([
    [['nelson-1', 'nelson-2', 'nelson-5', 'nelson-6'], 0.75],
    [['western-electric-1', 'western-electric-4'], 0.5],
    [['nelson-7', 'nelson-8', 'nelson-1'], 1],
  ] as const)('Shewhart chart with %j, shift %f', (rules, shift) => {
    const simulated = simulate(ruleFollower(rules), shift, 1500);
    const chart = { limitFactor: 3, sides: 'two' as const, rules };
    expectWithin(shewhartAverageRunLength(chart, shift), simulated);
  });
});

describe('run lengths by two roads', () => {
  it('of cumulative sums: the chain comes to the integral equation as 1/m²', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 1.5, noNaN: true }),
        fc.double({ min: 1, max: 6, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (referenceValue, decisionInterval, shift) => {
          const headstart = decisionInterval / 3;
          const design = { referenceValue, decisionInterval, headstart, sides: 'two' as const };
          const exact = cusumAverageRunLength(design, shift);
          fc.pre(exact < 1e5);
          const [coarse, fine] = [100, 200].map((states) =>
            cusumRunLengthByMarkovChain(design, shift, states),
          ) as [number, number];
          const ratio = (399 / 199) ** 2;
          const extrapolated = fine + (fine - coarse) / (ratio - 1);
          expect(Math.abs(extrapolated / exact - 1)).toBeLessThan(2e-5);
        },
      ),
      { seed, numRuns: 40 },
    );
  });

  it('of weighted averages, by the same extrapolation', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        fc.double({ min: 1.5, max: 3.2, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.constantFrom<ChartSides>('one', 'two'),
        (smoothing, limitFactor, shift, sides) => {
          const design = { smoothing, limitFactor, sides };
          const exact = ewmaAverageRunLength(design, shift);
          const [coarse, fine] = [51, 101].map((states) =>
            ewmaRunLengthByMarkovChain(design, shift, states),
          ) as [number, number];
          const ratio = sides === 'two' ? (101 / 51) ** 2 : (201 / 101) ** 2;
          const extrapolated = fine + (fine - coarse) / (ratio - 1);
          expect(Math.abs(extrapolated / exact - 1)).toBeLessThan(5e-4);
        },
      ),
      { seed, numRuns: 30 },
    );
  });
});

describe('run lengths', () => {
  it('rise with the decision interval and fall with the shift', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (referenceValue, decisionInterval, shift) => {
          const at = (h: number, mean: number) =>
            cusumAverageRunLength({ referenceValue, decisionInterval: h, sides: 'one' }, mean);
          const here = at(decisionInterval, shift);
          expect(at(decisionInterval + 0.1, shift)).toBeGreaterThan(here);
          expect(at(decisionInterval, shift + 0.1)).toBeLessThan(here);
        },
      ),
      { seed, numRuns: 40 },
    );
  });

  it('a headstart shortens them, most of all when something is wrong from the start', () => {
    const design = { referenceValue: 0.5, decisionInterval: 5, sides: 'two' as const };
    const ratio = (shift: number) =>
      cusumAverageRunLength({ ...design, headstart: 2.5 }, shift) /
      cusumAverageRunLength(design, shift);
    expect(ratio(0)).toBeLessThan(1);
    expect(ratio(1)).toBeLessThan(ratio(0));
  });

  it('give back the decision interval from which they came', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 1.2, noNaN: true }),
        fc.double({ min: 1, max: 6, noNaN: true }),
        (referenceValue, decisionInterval) => {
          const chart = { referenceValue, sides: 'one' as const };
          const runLength = cusumAverageRunLength({ ...chart, decisionInterval }, 0);
          fc.pre(runLength < 1e6);
          expect(cusumDecisionInterval(chart, runLength)).toBeCloseTo(decisionInterval, 7);
        },
      ),
      { seed, numRuns: 20 },
    );
  });
});
