import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acceptanceLimit } from '../src/conformity/acceptance-limit.ts';
import { bivariateNormal, owensT } from '../src/conformity/bivariate-normal.ts';
import { decisionRisks } from '../src/conformity/decision-risks.ts';
import { finenessToBuy, finenessToBuyCalculation } from '../src/conformity/fineness-to-buy.ts';
import { globalRisk, guardedLimit } from '../src/conformity/fineness-verdict.ts';
import { type GuardBandsInput, guardBands } from '../src/conformity/guard-bands.ts';
import { normalGlobalRisk } from '../src/conformity/normal-global-risk.ts';
import { normalDistribution } from '../src/quantity/normal.ts';
import { seededNormal } from './simulation.ts';

const z = fc.double({ min: -5, max: 5, noNaN: true });
const rho = fc.double({ min: -0.999, max: 0.999, noNaN: true });

describe('bivariate normal probabilities', () => {
  it('are symmetric, mirrored, and add up over the second quantity', () => {
    fc.assert(
      fc.property(z, z, rho, (h, k, r) => {
        const p = bivariateNormal(h, k, r);
        expect(bivariateNormal(k, h, r)).toBeCloseTo(p, 13);
        const marginal = normalDistribution(h, 0, 1);
        expect(p + bivariateNormal(h, -k, -r)).toBeCloseTo(marginal, 13);
      }),
      { seed: 71, numRuns: 200 },
    );
  });

  it('rise with both limits and with the correlation', () => {
    fc.assert(
      fc.property(z, z, rho, fc.double({ min: 0, max: 1, noNaN: true }), (h, k, r, more) => {
        const p = bivariateNormal(h, k, r) - 1e-14;
        expect(bivariateNormal(h + more, k, r)).toBeGreaterThanOrEqual(p);
        expect(bivariateNormal(h, k, r + (0.9995 - r) * more)).toBeGreaterThanOrEqual(p);
      }),
      { seed: 72, numRuns: 200 },
    );
  });

  it('are products without correlation', () => {
    fc.assert(
      fc.property(z, z, (h, k) => {
        const product = normalDistribution(h, 0, 1) * normalDistribution(k, 0, 1);
        expect(bivariateNormal(h, k, 0)).toBeCloseTo(product, 13);
      }),
      { seed: 73, numRuns: 150 },
    );
  });

  it('have a function T that is odd in the slope and even in the distance', () => {
    fc.assert(
      fc.property(z, z, (h, a) => {
        expect(owensT(-h, a)).toBe(owensT(h, a));
        expect(owensT(h, -a) + owensT(h, a)).toBe(0);
      }),
      { seed: 74, numRuns: 150 },
    );
  });
});

const situation = fc.record({
  mean: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
  spread: fc.double({ min: 0.2, max: 2, noNaN: true }),
  u: fc.double({ min: 0.02, max: 1, noNaN: true }),
  guard: fc.double({ min: -0.5, max: 0.8, noNaN: true }),
});

describe('global risks', () => {
  it('are the same in closed form and by quadrature', () => {
    fc.assert(
      fc.property(situation, ({ mean, spread, u, guard }) => {
        const options = {
          measuringStandardUncertainty: u,
          limits: { lower: -1, upper: 1 },
          acceptance: { lower: -1 + guard, upper: 1 - guard },
        };
        const process = { mean, standardDeviation: spread };
        const closed = normalGlobalRisk({ process, ...options });
        const summed = globalRisk({ process: { kind: 'normal', ...process }, ...options });
        expect(closed.consumerRisk).toBeCloseTo(summed.consumerRisk, 9);
        expect(closed.producerRisk).toBeCloseTo(summed.producerRisk, 9);
        expect(closed.processConformance).toBeCloseTo(summed.processConformance, 9);
      }),
      { seed: 75, numRuns: 12 },
    );
  });

  it('are the shares of simulated melts with one limit, seed 76', () => {
    const normal = seededNormal(76);
    const trials = 200_000;
    let [bad, good, accepted] = [0, 0, 0];
    for (let trial = 0; trial < trials; trial += 1) {
      const truth = 916.75 + 0.1 * normal();
      const passes = truth + 0.08 * normal() >= 916.68;
      if (passes) accepted += 1;
      if (truth < 916.6 && passes) bad += 1;
      if (truth >= 916.6 && !passes) good += 1;
    }
    const risk = decisionRisks({
      unit: '‰',
      process: { kind: 'normal', mean: 916.75, standardDeviation: 0.1 },
      measuringStandardUncertainty: 0.08,
      lowerLimit: 916.6,
      upperLimit: null,
      guardBand: 0.08,
      measuredValue: null,
    });
    const within = (count: number, p: number) =>
      expect(Math.abs(count / trials - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / trials));
    within(bad, risk.consumerRisk);
    within(good, risk.producerRisk);
    within(accepted, risk.acceptedShare);
  });

  it('a wider guard band never raises the consumer’s risk nor lowers the producer’s', () => {
    fc.assert(
      fc.property(situation, fc.double({ min: 0, max: 0.15, noNaN: true }), (one, more) => {
        const risk = (guard: number) =>
          normalGlobalRisk({
            process: { mean: one.mean, standardDeviation: one.spread },
            measuringStandardUncertainty: one.u,
            limits: { lower: -1, upper: 1 },
            acceptance: { lower: -1 + guard, upper: 1 - guard },
          });
        const [narrow, wide] = [risk(one.guard), risk(one.guard + more)];
        expect(wide.consumerRisk).toBeLessThanOrEqual(narrow.consumerRisk + 1e-14);
        expect(wide.producerRisk).toBeGreaterThanOrEqual(narrow.producerRisk - 1e-14);
      }),
      { seed: 77, numRuns: 150 },
    );
  });
});

describe('acceptance limits', () => {
  it('agree with the closed form for one limit, above and below', () => {
    const probability = fc.double({ min: 0.02, max: 0.999, noNaN: true });
    const u = fc.double({ min: 0.01, max: 2, noNaN: true });
    fc.assert(
      fc.property(probability, u, (requiredProbability, standardUncertainty) => {
        const common = {
          unit: '1',
          measuringStandardUncertainty: standardUncertainty,
          process: null,
          requirement: {
            kind: 'conformance of each accepted item',
            probability: requiredProbability,
          },
        } as const;
        const closed = (conforms: 'above' | 'below') =>
          guardedLimit({ limit: 10, standardUncertainty, requiredProbability, conforms });
        const above = acceptanceLimit({ ...common, lowerLimit: 10, upperLimit: null });
        expect(above.acceptanceLower).toBeCloseTo(closed('above'), 10);
        const below = acceptanceLimit({ ...common, lowerLimit: null, upperLimit: 10 });
        expect(below.acceptanceUpper).toBeCloseTo(closed('below'), 10);
      }),
      { seed: 78, numRuns: 100 },
    );
  });
});

const rules = fc.constantFrom<GuardBandsInput['rule']>(
  { kind: 'simple acceptance' },
  { kind: 'guard band U' },
  { kind: 'share of U', share: 0.83 },
  { kind: 'required probability', probability: 0.95 },
);

describe('laws of decision rules', () => {
  const input = fc.record({
    value: fc.double({ min: -3, max: 3, noNaN: true }),
    standardUncertainty: fc.double({ min: 0.01, max: 1, noNaN: true }),
    rule: rules,
  });
  const base = {
    unit: '1',
    coverageFactor: 2,
    degreesOfFreedom: null,
    lowerLimit: 0,
    upperLimit: null,
  } as const;

  it('what the seller proves the buyer cannot refuse, and the third state lies between', () => {
    fc.assert(
      fc.property(input, (one) => {
        const verdict = (burdenOfProof: GuardBandsInput['burdenOfProof']) =>
          guardBands({ ...base, ...one, burdenOfProof }).verdict;
        const [seller, buyer, each] = [
          verdict('seller'),
          verdict('buyer'),
          verdict('each his own claim'),
        ];
        if (seller === 'passes') expect(buyer).toBe('passes');
        expect(each).toBe(
          seller === 'passes' ? 'passes' : buyer === 'fails' ? 'fails' : 'undecided',
        );
      }),
      { seed: 79, numRuns: 200 },
    );
  });

  it('no pass carries more than the risk stated for the rule', () => {
    fc.assert(
      fc.property(input, (one) => {
        const output = guardBands({ ...base, ...one, burdenOfProof: 'seller' });
        if (output.verdict === 'passes') {
          expect(output.nonconformanceProbability).toBeLessThanOrEqual(
            output.greatestConsumerRisk * (1 + 1e-9),
          );
        } else {
          expect(output.conformanceProbability).toBeLessThanOrEqual(
            output.greatestProducerRisk * (1 + 1e-9),
          );
        }
      }),
      { seed: 80, numRuns: 200 },
    );
  });
});

describe('the fineness to buy', () => {
  it('lets the required share of simulated melts pass, seed 81', () => {
    const { example } = finenessToBuyCalculation;
    const { now } = finenessToBuy(example);
    const normal = seededNormal(81);
    const trials = 200_000;
    let passed = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const truth = now.meanFinenessPerMille + example.processStandardDeviationPerMille * normal();
      const found = truth + example.standardUncertaintyPerMille * normal();
      if (found >= now.acceptanceLimitPerMille) passed += 1;
    }
    const error = Math.sqrt((0.95 * 0.05) / trials);
    expect(Math.abs(passed / trials - 0.95)).toBeLessThan(4 * error);
  });

  it('rises with uncertainty, spread, guard factor and share', () => {
    const more = fc.double({ min: 0, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(more, more, (a, b) => {
        const { example } = finenessToBuyCalculation;
        const mean = (changed: Partial<typeof example>) =>
          finenessToBuy({ ...example, ...changed }).now.meanFinenessPerMille;
        const plain = mean({});
        expect(mean({ standardUncertaintyPerMille: 0.15 + a })).toBeGreaterThanOrEqual(plain);
        expect(mean({ processStandardDeviationPerMille: 0.1 + b })).toBeGreaterThanOrEqual(plain);
        expect(mean({ guardFactor: 2 + a })).toBeGreaterThanOrEqual(plain);
        expect(mean({ requiredPassProbability: 0.95 + b / 10 })).toBeGreaterThanOrEqual(plain);
      }),
      { seed: 82, numRuns: 100 },
    );
  });
});
