import { describe, expect, it } from 'vitest';
import { weightDrift, weightDriftCalculation } from './weight-drift.ts';
import { likeliestJump } from './weight-jump.ts';

const example = weightDriftCalculation.example;

const yearly = (errors: readonly number[]) =>
  errors.map((errorMilligrams, at) => ({ date: `${2001 + at}-01-01`, errorMilligrams }));

describe('weightDrift', () => {
  it('shows the drift of the example and keeps its limit', () => {
    const output = weightDrift(example);
    expect(output.isDriftShown).toBe(true);
    expect(output.driftMilligramsPerYear).toBeCloseTo(0.0043, 3);
    expect(output).toMatchObject({ isNextWithinLimit: true, isLatestForeseen: true });
    expect(output.words).toContain('The weight drifts by');
  });

  it('does not depend on the order of the calibrations', () => {
    const turned = { ...example, history: example.history.toReversed() };
    expect(weightDrift(turned)).toEqual(weightDrift(example));
  });

  it('calls a jump and the date after it', () => {
    const history = yearly([0.001, -0.001, 0.001, 0, -0.001, 0.05, 0.051, 0.049, 0.051, 0.05]);
    const output = weightDrift({ history, nextDate: '2011-01-01', levelPercent: 95 });
    expect(output).toMatchObject({ isJumpShown: true, jumpDate: '2006-01-01' });
    expect(output.jumpMilligrams).toBeCloseTo(0.05, 2);
    expect(output.words).toContain('before 2006-01-01');
  });

  it('sees that the latest value departs from the earlier ones', () => {
    const history = yearly([0.001, -0.001, 0.001, 0, -0.001, 0.04]);
    const output = weightDrift({ history, nextDate: '2007-01-01', levelPercent: 95 });
    expect(output.isLatestForeseen).toBe(false);
    expect(output.words).toContain('weigh again');
  });

  it('warns that the limit may be broken', () => {
    const output = weightDrift({ ...example, limitMilligrams: 0.04 });
    expect(output.isNextWithinLimit).toBe(false);
    expect(output.words).toContain('calibrate earlier');
  });

  it('says nothing where too few calibrations are left', () => {
    const history = yearly([0.01, 0.02, 0.01]);
    const output = weightDrift({ history, nextDate: '2004-01-01', levelPercent: 95 });
    expect(output).toMatchObject({
      latestForetoldMilligrams: null,
      isLatestForeseen: null,
      jumpDate: null,
      isJumpShown: null,
      isNextWithinLimit: null,
    });
  });

  it('refuses calibrations of one day only', () => {
    const history = example.history.map((one) => ({ ...one, date: '2020-01-01' }));
    expect(() => weightDrift({ ...example, history })).toThrow('at two different dates or more');
  });

  it('refuses a next date before the last calibration', () => {
    expect(() => weightDrift({ ...example, nextDate: '2023-03-05' })).toThrow(
      'the date of the last calibration, 2023-03-06, or a later one',
    );
  });

  it('refuses a date that is none', () => {
    const input = { ...example, nextDate: '2024-02-30' };
    const problem = weightDriftCalculation.input.safeParse(input).error?.issues[0];
    expect(problem?.message).toContain('a date as year-month-day');
  });
});

describe('likeliestJump', () => {
  it('finds a perfect step without chance', () => {
    const found = likeliestJump([0, 1, 2, 3, 4, 5], [1, 1, 1, 3, 3, 3]);
    expect(found).toMatchObject({ index: 3 });
    expect(found?.size).toBeCloseTo(2, 9);
    expect(found?.probability).toBeLessThan(1e-12);
  });

  it('is none for few values, few dates or a perfect line', () => {
    expect(likeliestJump([0, 1, 2, 3], [0, 0, 1, 1])).toBeNull();
    expect(likeliestJump([0, 0, 0, 1, 1, 1], [0, 0, 0, 1, 1, 1])).toBeNull();
    expect(likeliestJump([0, 1, 2, 3, 4], [0, 0, 0, 0, 0])).toBeNull();
  });
});
