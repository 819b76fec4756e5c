import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conformanceProbability,
  type FinenessVerdictInput,
  finenessVerdict,
  globalRisk,
  nonconformanceProbability,
} from '../src/conformity/fineness-verdict.ts';
import { seededNormal } from './simulation.ts';

const trials = 200_000;
const fourStandardErrors = (p: number) => 4 * Math.sqrt((p * (1 - p)) / trials);

const base: FinenessVerdictInput = {
  finenessPerMille: 916.75,
  standardUncertaintyPerMille: 0.15,
  limitPerMille: 916.6,
  guardFactor: 1,
  requiredConformanceProbability: 0.95,
};

function share(count: number, isHit: () => boolean): number {
  let hits = 0;
  for (let trial = 0; trial < count; trial += 1) if (isHit()) hits += 1;
  return hits / count;
}

describe('the probability of conformity', () => {
  it('is the share of simulated true values at or above the limit, seed 30', () => {
    const normal = seededNormal(30);
    const claimed = finenessVerdict(base).conformanceProbability;
    const simulated = share(trials, () => 916.75 + 0.15 * normal() >= 916.6);
    expect(Math.abs(simulated - claimed)).toBeLessThan(fourStandardErrors(claimed));
  });

  it('is the same share under Student with 4 degrees of freedom, seed 31', () => {
    const normal = seededNormal(31);
    const student = () => {
      const squares = [normal(), normal(), normal(), normal()].map((x) => x * x);
      return normal() / Math.sqrt(squares.reduce((sum, x) => sum + x, 0) / 4);
    };
    const claimed = finenessVerdict({ ...base, degreesOfFreedom: 4 }).conformanceProbability;
    const simulated = share(trials, () => 916.75 + 0.15 * student() >= 916.6);
    expect(Math.abs(simulated - claimed)).toBeLessThan(fourStandardErrors(claimed));
  });

  it('is reached by the fineness to buy', () => {
    const { finenessToBuyPerMille } = finenessVerdict({ ...base, degreesOfFreedom: 7 });
    const output = finenessVerdict({
      ...base,
      degreesOfFreedom: 7,
      finenessPerMille: finenessToBuyPerMille,
    });
    expect(output.conformanceProbability).toBeCloseTo(0.95, 9);
  });

  it('lets metal of the fineness that passes pass as often as required, seed 32', () => {
    const normal = seededNormal(32);
    const truth = finenessVerdict(base).finenessToPassPerMille;
    const runs = 20_000;
    const simulated = share(
      runs,
      () =>
        finenessVerdict({ ...base, finenessPerMille: truth + 0.15 * normal() }).verdict ===
        'passes',
    );
    expect(Math.abs(simulated - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / runs));
  });
});

describe('global risks', () => {
  it('are the shares of simulated items, seed 33', () => {
    const normal = seededNormal(33);
    let accepted = 0;
    let rejected = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const truth = 0.12 * normal();
      const found = truth + 0.04 * normal();
      const conforms = Math.abs(truth) <= 0.2;
      const passes = Math.abs(found) <= 0.16;
      if (!conforms && passes) accepted += 1;
      if (conforms && !passes) rejected += 1;
    }
    const risk = globalRisk({
      process: { kind: 'normal', mean: 0, standardDeviation: 0.12 },
      measuringStandardUncertainty: 0.04,
      limits: { lower: -0.2, upper: 0.2 },
      acceptance: { lower: -0.16, upper: 0.16 },
    });
    expect(Math.abs(accepted / trials - risk.consumerRisk)).toBeLessThan(
      fourStandardErrors(risk.consumerRisk),
    );
    expect(Math.abs(rejected / trials - risk.producerRisk)).toBeLessThan(
      fourStandardErrors(risk.producerRisk),
    );
  });
});

const verdictInput = fc.record({
  finenessPerMille: fc.double({ min: 900, max: 1000, noNaN: true }),
  standardUncertaintyPerMille: fc.double({ min: 0.001, max: 5, noNaN: true }),
  limitPerMille: fc.double({ min: 900, max: 1000, noNaN: true }),
  guardFactor: fc.double({ min: 0, max: 5, noNaN: true }),
  requiredConformanceProbability: fc.double({ min: 0.5, max: 0.9999, noNaN: true }),
});

describe('laws of the verdict', () => {
  it('probability of conformity and consumer’s risk add to one', () => {
    fc.assert(
      fc.property(verdictInput, (input) => {
        const output = finenessVerdict(input);
        expect(output.conformanceProbability + output.consumerRisk).toBeCloseTo(1, 12);
      }),
      { seed: 34, numRuns: 300 },
    );
  });

  it('a higher fineness never has a worse verdict', () => {
    const rank = { fails: 0, undecided: 1, passes: 2 };
    fc.assert(
      fc.property(verdictInput, fc.double({ min: 0, max: 50, noNaN: true }), (input, more) => {
        const higher = {
          ...input,
          finenessPerMille: Math.min(1000, input.finenessPerMille + more),
        };
        const [low, high] = [finenessVerdict(input), finenessVerdict(higher)];
        expect(rank[high.verdict]).toBeGreaterThanOrEqual(rank[low.verdict]);
        expect(high.conformanceProbability).toBeGreaterThanOrEqual(low.conformanceProbability);
      }),
      { seed: 35, numRuns: 300 },
    );
  });

  it('a pass carries at most the risk stated for the acceptance limit', () => {
    fc.assert(
      fc.property(verdictInput, (input) => {
        const output = finenessVerdict(input);
        if (output.verdict !== 'passes') return;
        const most = output.consumerRiskAtAcceptanceLimit * (1 + 1e-9);
        expect(output.consumerRisk).toBeLessThanOrEqual(most);
      }),
      { seed: 36, numRuns: 300 },
    );
  });

  it('is mirrored between a lower and an upper limit', () => {
    const z = fc.double({ min: -8, max: 8, noNaN: true });
    fc.assert(
      fc.property(z, fc.option(fc.double({ min: 1, max: 50, noNaN: true })), (value, freedom) => {
        const common = { standardUncertainty: 1, degreesOfFreedom: freedom ?? undefined };
        const above = conformanceProbability({ value, lowerLimit: 0, ...common });
        const below = conformanceProbability({ value: -value, upperLimit: 0, ...common });
        const outside = nonconformanceProbability({ value, lowerLimit: 0, ...common });
        expect(above).toBeCloseTo(below, 12);
        expect(above + outside).toBeCloseTo(1, 12);
      }),
      { seed: 37, numRuns: 300 },
    );
  });
});
