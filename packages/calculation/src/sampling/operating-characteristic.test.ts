import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import {
  operatingCharacteristic,
  operatingCharacteristicCalculation,
} from './operating-characteristic.ts';
import type { OperatingCharacteristicInput } from './operating-characteristic-schema.ts';

const calculation = operatingCharacteristicCalculation as unknown as Calculation;
const { example } = operatingCharacteristicCalculation;

const double = {
  kind: 'double',
  firstSampleSizePieces: 50,
  firstAcceptanceNumber: 1,
  firstRejectionNumber: 4,
  secondSampleSizePieces: 100,
  secondAcceptanceNumber: 3,
} as const;

function problemOf(input: unknown) {
  const result = runCalculation(calculation, input);
  if (result.outcome !== 'refused') throw new Error('was not refused');
  return result.problems[0];
}

describe('operatingCharacteristic', () => {
  it('gives risks at the two qualities and says them', () => {
    const found = operatingCharacteristic(example);
    // By hand: Pa = Σ C(52, x)·0.025ˣ·0.975⁵²⁻ˣ up to 3, and the same with 0.125.
    let [good, bad] = [0, 0];
    for (const [count, ways] of [1, 52, 1326, 22_100].entries()) {
      good += ways * 0.025 ** count * 0.975 ** (52 - count);
      bad += ways * 0.125 ** count * 0.875 ** (52 - count);
    }
    expect(found.producersRisk).toBeCloseTo(1 - good, 12);
    expect(found.consumersRisk).toBeCloseTo(bad, 12);
    expect(found.words).toContain('Lots with 2.5 % nonconforming are rejected');
    expect(found.qualities).toHaveLength(9);
  });

  it('counts a gap as accepted', () => {
    const plan = { kind: 'single', sampleSizePieces: 50, acceptanceNumber: 1 } as const;
    const point = (input: Partial<OperatingCharacteristicInput>) =>
      operatingCharacteristic({ basis: 'binomial', plan, qualitiesPercent: [4], ...input })
        .points[0];
    const gap = point({ plan: { ...plan, rejectionNumber: 4 } });
    const wide = point({ plan: { ...plan, acceptanceNumber: 3 } });
    expect(gap?.acceptanceProbability).toBe(wide?.acceptanceProbability);
  });

  it('takes the nearest whole number of pieces for one lot', () => {
    const found = operatingCharacteristic({
      plan: { kind: 'single', sampleSizePieces: 5, acceptanceNumber: 0 },
      basis: 'hypergeometric',
      lotSizePieces: 50,
      qualitiesPercent: [9.2],
      acceptanceProbabilities: [0.5, 0.1],
    });
    expect(found.points[0]).toMatchObject({ qualityPercent: 10, nonconformingPieces: 5 });
    // 45·44·43·42·41/(50·49·48·47·46), as in the documentation of the hypergeometric function.
    expect(found.points[0]?.acceptanceProbability).toBeCloseTo(0.5766, 4);
    // One lot: 6 faulty pieces are accepted 0.51, 7 of them 0.45 of the time.
    expect(found.qualities[0]?.qualityPercent).toBe(14);
  });

  it('has no quality at a probability that the plan always exceeds', () => {
    const found = operatingCharacteristic({
      plan: { kind: 'single', sampleSizePieces: 3, acceptanceNumber: 3 },
      basis: 'binomial',
      qualitiesPercent: [50],
      acceptanceProbabilities: [0.5],
    });
    expect(found.points[0]?.acceptanceProbability).toBe(1);
    expect(found.qualities).toEqual([{ acceptanceProbability: 0.5, qualityPercent: null }]);
    expect(found.words).not.toContain('Half of all lots');
    expect(found.averageOutgoingLimitPercent).toBe(100);
  });

  it('draws what it knows: effort for double plans, total inspection for lots of known size', () => {
    const titles = (input: OperatingCharacteristicInput) =>
      operatingCharacteristicCalculation
        .draw?.(input, operatingCharacteristic(input))
        .map(({ title }) => title.split(',')[0]);
    expect(titles({ basis: 'poisson', plan: double, qualitiesPercent: [1] })).toEqual([
      'Operating characteristic',
      'Average outgoing quality',
      'Average sample number',
    ]);
    expect(titles({ ...example, basis: 'hypergeometric' })).toEqual([
      'Operating characteristic',
      'Average outgoing quality',
      'Average total inspection',
    ]);
  });

  const base = { plan: double, basis: 'binomial', qualitiesPercent: [1] };
  it.each([
    ['a percentage above 100', { ...base, qualitiesPercent: [1, 101] }, 'qualitiesPercent.1'],
    ['a risk beyond it', { ...base, consumersQualityPercent: 120 }, 'consumersQualityPercent'],
    ['one lot without a size', { ...base, basis: 'hypergeometric' }, 'lotSizePieces'],
    ['samples above the lot', { ...base, lotSizePieces: 149 }, 'lotSizePieces'],
    [
      'a rejection number not above acceptance',
      { ...base, plan: { ...double, firstRejectionNumber: 1 } },
      'plan.firstRejectionNumber',
    ],
    [
      'a first sample that always decides',
      { ...base, plan: { ...double, firstRejectionNumber: 2 } },
      'plan.firstRejectionNumber',
    ],
    [
      'a second sample that cannot accept',
      { ...base, plan: { ...double, secondAcceptanceNumber: 1 } },
      'plan.secondAcceptanceNumber',
    ],
    [
      'a second rejection number not above acceptance',
      { ...base, plan: { ...double, secondRejectionNumber: 3 } },
      'plan.secondRejectionNumber',
    ],
    [
      'a single rejection number not above acceptance',
      {
        ...base,
        plan: { kind: 'single', sampleSizePieces: 5, acceptanceNumber: 2, rejectionNumber: 2 },
      },
      'plan.rejectionNumber',
    ],
    ['a plan of neither kind', { ...base, plan: { kind: 'triple' } }, 'plan.kind'],
    [
      'a probability of one',
      { ...base, acceptanceProbabilities: [1] },
      'acceptanceProbabilities.0',
    ],
    ['no quality', { ...base, qualitiesPercent: [] }, 'qualitiesPercent'],
  ])('refuses %s', (_, input, field) => {
    const problem = problemOf(input);
    expect(problem?.field).toBe(field);
    expect(problem?.accepted.length).toBeGreaterThan(5);
  });
});
