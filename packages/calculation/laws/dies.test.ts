import poisson from '@stdlib/stats-base-dists-poisson';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DieFaultOnsetInput, dieFaultOnset } from '../src/dies/die-fault-onset.ts';
import { type DieLife, riskTable } from '../src/dies/die-life.ts';
import { dieSurvival } from '../src/dies/die-survival.ts';
import { diesForOrder } from '../src/dies/dies-for-order.ts';
import { fourierTransform } from '../src/dies/fourier.ts';
import { logRank } from '../src/dies/log-rank.ts';
import { type OnsetLook, onsetPosterior } from '../src/dies/onset-posterior.ts';
import { renewalShortfalls } from '../src/dies/renewal-count.ts';
import { commonShape, weibullData, weibullFit } from '../src/dies/weibull-fit.ts';
import { lifeAtRisk, lifeAtRiskInterval, shapeInterval } from '../src/dies/weibull-profile.ts';
import { seededNormals } from './simulated-readings.ts';

const seed = 1848;

const lives = fc.array(
  fc.record({
    lifeStrikes: fc.integer({ min: 1, max: 1000 }),
    end: fc.constantFrom('failed' as const, 'failed' as const, 'censored' as const),
  }),
  { minLength: 4, maxLength: 40 },
);

const canBeFitted = (given: readonly DieLife[]): boolean => {
  const longest = Math.max(...given.map((one) => one.lifeStrikes));
  return given.some((one) => one.end === 'failed' && one.lifeStrikes < longest);
};

describe('survival curves', () => {
  it('fall from 1, and without censoring are the plain share of dies that live on', () => {
    fc.assert(
      fc.property(lives, (given) => {
        const all = given.map(({ lifeStrikes }) => ({ lifeStrikes, end: 'failed' as const }));
        const { steps } = dieSurvival({ lives: all, confidence: 0.9, interval: 'plain' });
        for (const step of steps) {
          const beyond = all.filter((one) => one.lifeStrikes > step.lifeStrikes).length;
          expect(step.survival).toBeCloseTo(beyond / all.length, 12);
          // Without censoring Greenwood's error is that of a binomial share.
          const share = beyond / all.length;
          if (step.standardError !== null) {
            expect(step.standardError ** 2).toBeCloseTo((share * (1 - share)) / all.length, 12);
          }
        }
      }),
      { seed, numRuns: 100 },
    );
  });

  it('do not depend on the order of the lives, and scale with the unit', () => {
    fc.assert(
      fc.property(lives.filter(canBeFitted), (given) => {
        const one = dieSurvival({ lives: given, confidence: 0.9, interval: 'log-log' });
        const other = dieSurvival({
          lives: [...given].reverse().map((x) => ({ ...x, lifeStrikes: 8 * x.lifeStrikes })),
          confidence: 0.9,
          interval: 'log-log',
        });
        expect(other.steps.map((step) => step.survival)).toEqual(
          one.steps.map((step) => step.survival),
        );
        expect(other.restrictedMeanStrikes).toBe(8 * one.restrictedMeanStrikes);
        for (const step of one.steps) {
          if (step.lowerSurvival === null || step.upperSurvival === null) continue;
          expect(step.lowerSurvival).toBeGreaterThanOrEqual(0);
          expect(step.upperSurvival).toBeLessThanOrEqual(1);
          expect(step.lowerSurvival).toBeLessThanOrEqual(step.survival);
          expect(step.upperSurvival).toBeGreaterThanOrEqual(step.survival);
        }
      }),
      { seed, numRuns: 100 },
    );
  });
});

describe('the Weibull fit', () => {
  it('scales with the unit, and a count of dies is the same as so many lives', () => {
    fc.assert(
      fc.property(lives.filter(canBeFitted), (given) => {
        const one = weibullFit(weibullData(riskTable(given)));
        const other = weibullFit(
          weibullData(
            riskTable(
              given.map((x) => ({ ...x, lifeStrikes: 1000 * x.lifeStrikes, countDies: 3 })),
            ),
          ),
        );
        expect(other.shape / one.shape).toBeCloseTo(1, 9);
        expect(other.scaleStrikes / one.scaleStrikes).toBeCloseTo(1000, 6);
        expect(one.logShapeStandardError / other.logShapeStandardError).toBeCloseTo(
          Math.sqrt(3),
          7,
        );
      }),
      { seed, numRuns: 100 },
    );
  });

  it('stands on a summit: no neighbour is more likely, and it lies inside its interval', () => {
    const logLikelihood = (given: readonly DieLife[], scale: number, shape: number): number =>
      given.reduce((sum, { lifeStrikes: t, end }) => {
        const z = shape * Math.log(t / scale);
        const failed = end === 'failed' ? Math.log(shape / t) + z : 0;
        return sum + failed - Math.exp(z);
      }, 0);
    fc.assert(
      fc.property(lives.filter(canBeFitted), (given) => {
        const data = weibullData(riskTable(given));
        const fit = weibullFit(data);
        const top = logLikelihood(given, fit.scaleStrikes, fit.shape);
        expect(top).toBeCloseTo(fit.logLikelihood, 6);
        for (const [a, b] of [
          [1.01, 1],
          [0.99, 1],
          [1, 1.01],
          [1, 0.99],
        ] as const) {
          expect(logLikelihood(given, fit.scaleStrikes * a, fit.shape * b)).toBeLessThan(top);
        }
        const { lower, upper } = shapeInterval(data, fit, 0.9);
        expect(lower ?? 0).toBeLessThan(fit.shape);
        expect(upper ?? Infinity).toBeGreaterThan(fit.shape);
        expect(commonShape([data, data])).toBeCloseTo(fit.shape, 8);
      }),
      { seed, numRuns: 60 },
    );
  });

  it('covers the true shape and life in about nine of ten samples with ten failures of fifteen', () => {
    const { uniform } = seededNormals('00000000000000000000000000000011');
    let shapeCovered = 0;
    let lifeCovered = 0;
    const samples = 400;
    const truth = { scaleStrikes: 100, shape: 2 };
    const at = { ageStrikes: 40, risk: 0.2 };
    for (let sample = 0; sample < samples; sample += 1) {
      const drawn = Array.from({ length: 15 }, () => 100 * Math.sqrt(-Math.log(uniform()))).sort(
        (one, other) => one - other,
      );
      const limit = drawn[9] ?? 0;
      const data = weibullData(
        riskTable(
          drawn.map((life) => ({
            lifeStrikes: Math.min(life, limit),
            end: life <= limit ? ('failed' as const) : ('censored' as const),
          })),
        ),
      );
      const fit = weibullFit(data);
      const shape = shapeInterval(data, fit, 0.9);
      const life = lifeAtRiskInterval(data, fit, at, 0.9);
      if ((shape.lower ?? 0) <= 2 && (shape.upper ?? Infinity) >= 2) shapeCovered += 1;
      const expected = lifeAtRisk(truth, at);
      if ((life.lower ?? 0) <= expected && (life.upper ?? Infinity) >= expected) lifeCovered += 1;
    }
    // Standard error of the simulated share: 0.015; likelihood ratio intervals run slightly short.
    expect(Math.abs(shapeCovered / samples - 0.88)).toBeLessThan(0.05);
    expect(Math.abs(lifeCovered / samples - 0.88)).toBeLessThan(0.05);
  });
});

describe('the log-rank comparison', () => {
  it('expects as many failures as there are, and does not depend on the order of families', () => {
    fc.assert(
      fc.property(fc.tuple(lives, lives, lives), (given) => {
        const tables = given.map((family) => riskTable(family));
        const failures = given.flat().filter((one) => one.end === 'failed').length;
        const spans = given.map((family) => Math.max(...family.map((one) => one.lifeStrikes)));
        const shared = given
          .flat()
          .filter((one) => one.end === 'failed' && one.lifeStrikes <= Math.min(...spans));
        fc.pre(shared.length > 3);
        const found = logRank(tables);
        const sum = found.expectedFailures.reduce((total, value) => total + value, 0);
        expect(sum).toBeCloseTo(failures, 9);
        const turned = logRank([...tables].reverse());
        expect(turned.chiSquare).toBeCloseTo(found.chiSquare, 7);
      }),
      { seed, numRuns: 60 },
    );
  });

  it('finds families that are alike different in about one of twenty samples', () => {
    const { uniform } = seededNormals('00000000000000000000000000000012');
    const family = () =>
      riskTable(
        Array.from({ length: 40 }, () => {
          const life = -Math.log(uniform());
          const end = -2 * Math.log(uniform());
          return { lifeStrikes: Math.min(life, end), end: life < end ? 'failed' : 'censored' };
        }),
      );
    let found = 0;
    for (let sample = 0; sample < 600; sample += 1) {
      if (logRank([family(), family()]).probability < 0.05) found += 1;
    }
    // Standard error of the simulated share: 0.009.
    expect(Math.abs(found / 600 - 0.05)).toBeLessThan(0.03);
  });
});

describe('the number of dies for an order', () => {
  it('is Poisson for lives without ageing, whatever the age of the first die', () => {
    for (const order of [0.2, 1, 7, 60, 200]) {
      for (const firstAgeStrikes of [0, 5]) {
        const found = renewalShortfalls({ scaleStrikes: 1, shape: 1, firstAgeStrikes }, order);
        for (const [index, short] of found.entries()) {
          expect(Math.abs(short - (1 - poisson.cdf(index, order)))).toBeLessThan(1e-8);
        }
      }
    }
  });

  it('agrees with simulated wear, with a die in the press', () => {
    const { uniform } = seededNormals('00000000000000000000000000000013');
    const [scaleStrikes, shape, age, order] = [100, 3, 60, 450];
    const draw = () => scaleStrikes * (-Math.log(uniform())) ** (1 / shape);
    const reached = (age / scaleStrikes) ** shape;
    const counts: number[] = [];
    for (let run = 0; run < 40_000; run += 1) {
      let struck = scaleStrikes * (reached - Math.log(uniform())) ** (1 / shape) - age;
      let dies = 0;
      for (; struck < order; dies += 1) struck += draw();
      counts.push(dies);
    }
    const found = diesForOrder({
      life: { from: 'known life', scaleStrikes, shape },
      orderStrikes: order,
      risk: 0.05,
      presentDieStrikes: age,
    });
    const mean = counts.reduce((sum, value) => sum + value, 0) / counts.length;
    // Standard error of the mean of 40 000 runs: about 0.004; of a share at most 0.0025.
    expect(Math.abs(found.expectedDies - mean)).toBeLessThan(0.016);
    for (const row of found.distribution) {
      const share = counts.filter((value) => value === row.dies).length / counts.length;
      expect(Math.abs(share - row.probability)).toBeLessThan(0.01);
    }
  });

  it('tends to order/mean + (1 + variation²)/2 for long orders', () => {
    // Cox (1962), 4.1: the renewal function is t/μ + (σ² − μ²)/(2μ²); one die more strikes the end.
    const found = diesForOrder({
      life: { from: 'known life', scaleStrikes: 1, shape: 2 },
      orderStrikes: 60,
      risk: 0.05,
    });
    const mean = Math.sqrt(Math.PI) / 2;
    const variation = 1 / mean ** 2 - 1;
    expect(found.expectedDies).toBeCloseTo(60 / mean + (1 + variation) / 2, 5);
  });

  it('the transform agrees with its definition', () => {
    const values = Float64Array.from({ length: 16 }, (_, index) => Math.sin(index * index));
    const { real, imaginary } = fourierTransform(values);
    for (let k = 0; k < 16; k += 1) {
      const angle = (j: number) => (-2 * Math.PI * j * k) / 16;
      const x = values.reduce((sum, value, j) => sum + value * Math.cos(angle(j)), 0);
      const y = values.reduce((sum, value, j) => sum + value * Math.sin(angle(j)), 0);
      expect(real[k]).toBeCloseTo(x, 12);
      expect(imaginary[k]).toBeCloseTo(y, 12);
    }
  });
});

describe('the onset of a fault', () => {
  const look = fc.record({
    strike: fc.integer({ min: 1, max: 300 }),
    looks: fc.integer({ min: 1, max: 5 }),
    badLooks: fc.integer({ min: 0, max: 1 }),
    missProbability: fc.double({ min: 0.05, max: 0.6, noNaN: true }),
    falseAlarmProbability: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
  });
  const prior = fc.oneof(
    fc.record({
      kind: fc.constant('uniform' as const),
      faultProbability: fc.double({ min: 0.05, max: 1, noNaN: true }),
    }),
    fc.record({
      kind: fc.constant('weibull' as const),
      scaleStrikes: fc.double({ min: 50, max: 2000, noNaN: true }),
      shape: fc.double({ min: 0.5, max: 4, noNaN: true }),
    }),
  );

  type Prior = Parameters<typeof onsetPosterior>[1];

  /** Probability of an onset at one strike before any look, written out. */
  const priorOf = (before: Prior, strike: number): number => {
    if (before.kind === 'uniform') return before.faultProbability / 300;
    const survival = (t: number) => Math.exp(-((t / before.scaleStrikes) ** before.shape));
    return survival(strike - 1) - survival(strike);
  };
  const soundPriorOf = (before: Prior): number =>
    before.kind === 'uniform'
      ? 1 - before.faultProbability
      : Math.exp(-((300 / before.scaleStrikes) ** before.shape));

  /** Likelihood of all looks for an onset at one strike, written out. */
  const likelihood = (looks: readonly OnsetLook[], onset: number): number =>
    looks.reduce((product, one) => {
      const bad = onset <= one.strike ? 1 - one.missProbability : one.falseAlarmProbability;
      return product * bad ** one.badLooks * (1 - bad) ** (one.looks - one.badLooks);
    }, 1);

  it('is the same strike by strike, whatever the order of the looks', () => {
    fc.assert(
      fc.property(fc.array(look, { minLength: 1, maxLength: 8 }), prior, (looks, before) => {
        const range = { firstStrike: 1, lastStrike: 300 };
        const found = onsetPosterior(looks, before, range);
        const turned = onsetPosterior([...looks].reverse(), before, range);
        const weights = Array.from(
          { length: 300 },
          (_, i) => priorOf(before, i + 1) * likelihood(looks, i + 1),
        );
        const sound = soundPriorOf(before) * likelihood(looks, 301);
        const total = weights.reduce((sum, weight) => sum + weight, sound);
        let sum = 0;
        let faulty = 0;
        let greatest = 0;
        for (const [index, weight] of weights.entries()) {
          sum += weight / total;
          faulty += sum;
          greatest = Math.max(
            greatest,
            Math.abs(found.beganBy(index + 1) - sum),
            Math.abs(turned.beganBy(index + 1) - sum),
          );
        }
        expect(greatest).toBeLessThan(1e-11);
        expect(found.faultyBy(300)).toBeCloseTo(faulty, 6);
      }),
      { seed, numRuns: 60 },
    );
  });

  const base: DieFaultOnsetInput = {
    firstStrike: 1,
    lastStrike: 10_000,
    prior: { kind: 'uniform', faultProbability: 1 },
    missProbability: 0.3,
    evidence: [
      { kind: 'check', strike: 3000, sampleSizePieces: 2, badPieces: 0 },
      { kind: 'check', strike: 6000, sampleSizePieces: 2, badPieces: 0 },
      { kind: 'check', strike: 9000, sampleSizePieces: 2, badPieces: 2 },
    ],
    risk: 0.02,
  };

  it('a higher miss probability or a lower risk never holds fewer pieces', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.8, noNaN: true }),
        fc.double({ min: 0, max: 0.19, noNaN: true }),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (miss, more, risk) => {
          const held = (missProbability: number, at: number) =>
            dieFaultOnset({ ...base, missProbability, risk: at }).all.heldPieces;
          expect(held(miss + more, risk)).toBeGreaterThanOrEqual(held(miss, risk));
          expect(held(miss, risk / 2)).toBeGreaterThanOrEqual(held(miss, risk));
        },
      ),
      { seed, numRuns: 100 },
    );
  });

  it('a check and a photograph with the same looks say the same', () => {
    const photograph = { kind: 'photograph' as const, strike: 6000, readings: 3, badReadings: 0 };
    const check = { kind: 'check' as const, strike: 6000, sampleSizePieces: 3, badPieces: 0 };
    const one = dieFaultOnset({ ...base, evidence: [...base.evidence, photograph] });
    const other = dieFaultOnset({ ...base, evidence: [...base.evidence, check] });
    expect(one.all).toEqual(other.all);
    expect(one.checksOnly?.heldPieces).toBe(dieFaultOnset(base).all.heldPieces);
    expect(one.all.heldPieces).toBeLessThan(one.checksOnly?.heldPieces ?? 0);
  });

  it('keeps its risk: simulated faults are among the released pieces as often as stated', () => {
    const { uniform } = seededNormals('00000000000000000000000000000014');
    let runs = 0;
    let escaped = 0;
    for (let run = 0; run < 3000; run += 1) {
      const onset = 1 + Math.floor(10_000 * uniform());
      const evidence = [2000, 4000, 6000, 8000, 10_000].map((strike) => {
        const faulty = onset <= strike;
        const bad = [0, 0].filter(() => faulty && uniform() > 0.3).length;
        return { kind: 'check' as const, strike, sampleSizePieces: 2, badPieces: bad };
      });
      const { all } = dieFaultOnset({ ...base, evidence, risk: 0.05 });
      runs += 1;
      if (all.holdFromStrike === null || onset < all.holdFromStrike) escaped += 1;
    }
    // The risk holds on average over all histories; standard error 0.004.
    expect(escaped / runs).toBeLessThan(0.062);
    expect(escaped / runs).toBeGreaterThan(0.038);
  });
});
