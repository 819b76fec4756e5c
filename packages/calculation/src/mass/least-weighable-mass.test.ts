import { describe, expect, it } from 'vitest';
import { leastWeighableMass, leastWeighableMassCalculation } from './least-weighable-mass.ts';

const example = leastWeighableMassCalculation.example;

describe('leastWeighableMass', () => {
  it('finds the mass of the example too small', () => {
    const output = leastWeighableMass(example);
    expect(output.leastMassMilligrams).toBeCloseTo(300, 9);
    expect(output).toMatchObject({ isFloorUsed: false, isIntendedMassEnough: false });
    // 2 × 0.15/250.
    expect(output.intendedRelativeUncertaintyPercent).toBeCloseTo(0.12, 12);
    expect(output.words).toContain('A mass of 250 mg is not enough: 0.12 %.');
  });

  it('takes the standard deviation of readings, and the floor when they hardly differ', () => {
    const of = (readingsMilligrams: number[]) =>
      leastWeighableMass({
        ...example,
        repeatability: { kind: 'readings', readingsMilligrams },
      });
    const spread = of([100, 100.4, 99.8, 100.2, 99.6]);
    // Deviations 0, 0.4, −0.2, 0.2, −0.4 about 100: √(0.4/4).
    expect(spread.standardDeviationMilligrams).toBeCloseTo(Math.sqrt(0.1), 9);
    const quiet = of([100, 100, 100, 100, 100]);
    expect(quiet.isFloorUsed).toBe(true);
    expect(quiet.leastMassMilligrams).toBeCloseTo(82, 9);
    expect(quiet.leastMassMilligrams).toBe(quiet.leastPossibleMassMilligrams);
  });

  it('grows with the safety factor', () => {
    const output = leastWeighableMass({ ...example, safetyFactor: 3 });
    expect(output.leastMassMilligrams).toBeCloseTo(900, 9);
  });

  it('meets the requirement just, with a proportional part, found by bisection', () => {
    const input = { ...example, safetyFactor: 2, proportionalUncertaintyPercent: 0.02 };
    const relative = (mass: number) => 100 * 2 * 2 * Math.hypot(0.15 / mass, 0.0002);
    let [low, high] = [1, 1e6];
    for (let turn = 0; turn < 200; turn += 1) {
      const middle = (low + high) / 2;
      if (relative(middle) > 0.1) low = middle;
      else high = middle;
    }
    expect(leastWeighableMass(input).leastMassMilligrams / low).toBeCloseTo(1, 10);
  });

  it('refuses a proportional part that leaves no room', () => {
    const input = { ...example, proportionalUncertaintyPercent: 0.05 };
    expect(() => leastWeighableMass(input)).toThrow(/less than 0.05 %.*no mass/);
  });
});
