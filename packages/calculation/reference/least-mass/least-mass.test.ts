import { describe, expect, it } from 'vitest';
import { leastWeighableMass } from '../../src/mass/least-weighable-mass.ts';
import values from './values.json' with { type: 'json' };

const leastFor = (standardDeviationMilligrams: number, scaleIntervalMilligrams: number) =>
  leastWeighableMass({
    repeatability: { kind: 'stated', standardDeviationMilligrams },
    scaleIntervalMilligrams,
    coverageFactor: 2,
    requiredRelativeUncertaintyPercent: 0.1,
    safetyFactor: 1,
  }).leastMassMilligrams;

describe('least mass of the pharmacopoeia', () => {
  it('is 300.00 mg for the printed standard deviation', () => {
    const { standardDeviationGrams, leastMassGrams } = values.printedExample;
    expect(leastFor(1000 * standardDeviationGrams, 0.1)).toBeCloseTo(1000 * leastMassGrams, 9);
  });

  it('is 2000 standard deviations', () => {
    expect(leastFor(1, 0.001)).toBeCloseTo(values.factor.leastMassOverStandardDeviation, 9);
  });

  it('is never below 820 steps of the display', () => {
    expect(leastFor(0, 0.01)).toBeCloseTo(0.01 * values.floor.leastMassScaleIntervals, 9);
  });

  it.each(values.dealerTable)('is that of the leaflet for $repeatabilityMilligrams mg', (row) => {
    expect(leastFor(row.repeatabilityMilligrams, 0.001)).toBeCloseTo(row.leastMassMilligrams, 9);
  });
});
