import { describe, expect, it } from 'vitest';
import { weightLimits, weightLimitsCalculation } from './weight-limits.ts';

describe('weightLimits', () => {
  it('does not accept the weight of the example', () => {
    const output = weightLimits(weightLimitsCalculation.example);
    expect(output.verdict).toBe('undecided');
    expect(output.finestClass).toBe('F2');
    expect(output.words).toContain('is not accepted: beyond 3.3333 mg');
  });

  it('accepts an error exactly on the inner limit, in tenths that doubles cannot hold', () => {
    const judge = (errorMilligrams: number) =>
      weightLimits({
        nominalMass: '10 g',
        weightClass: 'F2',
        errorMilligrams,
        expandedUncertaintyMilligrams: 0.2,
      }).verdict;
    // 0.6 − 0.2 is 0.39999999999999997 in doubles; the error of 0.4 mg is on the limit.
    expect(judge(0.4)).toBe('fits');
    expect(judge(-0.4)).toBe('fits');
    expect(judge(0.401)).toBe('undecided');
    expect(judge(0.8)).toBe('undecided');
    expect(judge(0.801)).toBe('does not fit');
  });

  it('leaves a weight undecided whose calibration is too coarse for its class', () => {
    const output = weightLimits({
      nominalMass: '10 g',
      weightClass: 'F2',
      errorMilligrams: 0,
      expandedUncertaintyMilligrams: 0.21,
    });
    expect(output).toMatchObject({
      isUncertaintySmallEnough: false,
      verdict: 'undecided',
      finestClass: 'M1',
    });
    expect(output.words).toContain('the uncertainty exceeds one third');
  });

  it('gives the limits alone without an error', () => {
    const output = weightLimits({ nominalMass: '50 kg', weightClass: 'M1-2' });
    expect(output).toMatchObject({ limitMilligrams: 5000, verdict: null, finestClass: null });
    expect(output.limits).toHaveLength(9);
  });

  it('refuses a class that has no such weight and names those that have', () => {
    expect(() => weightLimits({ nominalMass: '1 mg', weightClass: 'M2' })).toThrow(
      'weightClass is M2; accepted: for 1 mg one of E1, E2, F1, F2, M1',
    );
  });
});
