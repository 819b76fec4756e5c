import { describe, expect, it } from 'vitest';
import { lotFineness, lotFinenessCalculation } from './lot-fineness.ts';
import { type MeltFinenessInput, meltFineness, meltFinenessCalculation } from './melt-fineness.ts';

type Portion = MeltFinenessInput['determinations'][number];
const portion = (
  blank: string,
  finenessPerMille: number,
  more: Partial<Portion> = {},
): Portion => ({
  run: 'R-1',
  label: `${blank}-${finenessPerMille}`,
  blank,
  finenessPerMille,
  ownStandardUncertaintyPerMille: 0.1,
  runStandardUncertaintyPerMille: 0.1,
  methodStandardUncertaintyPerMille: 0.02,
  ...more,
});
const none = {
  ownStandardUncertaintyPerMille: 0,
  runStandardUncertaintyPerMille: 0,
  methodStandardUncertaintyPerMille: 0,
};
const stated = (determinations: Portion[], statistic: MeltFinenessInput['statistic'] = 'mean') =>
  meltFineness({ statistic, ownPart: 'as stated', determinations });
const estimated = (determinations: Portion[]) =>
  meltFineness({ statistic: 'mean', ownPart: 'from replicates', determinations });

/** Results of the station's own earlier calculation, version 1, as it gave them. */
const recorded = {
  mean: {
    standardUncertainty: 0.14075244225232422,
    degreesOfFreedom: 4.994804149631049,
    spread: 0.19737865470541563,
    between: 0.18283872675115528,
    shares: [14.007192882836065, 63.27844028013247, 20.695312007073106, 2.0190548299583515],
  },
  median: { standardUncertainty: 0.15087497804471314, degreesOfFreedom: 4.634771478781896 },
};

describe('meltFineness', () => {
  it('gives the figures by hand where the spread exceeds the own parts', () => {
    // s² = 0.08; independent part s²/2 = 0.04; run 0.01; method 0.0004. s_B² = 0.07.
    const found = meltFineness(meltFinenessCalculation.example);
    expect(found.finenessPerMille).toBeCloseTo(916.8, 10);
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(0.0504, 12);
    expect(found.betweenBlanksStandardDeviationPerMille ** 2).toBeCloseTo(0.07, 12);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo((0.0504 / 0.035) ** 2, 9);
  });

  it('repeats what the laboratory has recorded so far, digit for digit', () => {
    // Figures copied from the calculation that the laboratory station used before: two runs, three
    // blanks, one of them twice; mean and median of four.
    const determinations = [
      portion('A', 916.62),
      portion('A', 916.71, { ownStandardUncertaintyPerMille: 0.12 }),
      portion('B', 916.93, { run: 'R-2', runStandardUncertaintyPerMille: 0.08 }),
      portion('C', 917.05, { run: 'R-2', runStandardUncertaintyPerMille: 0.08 }),
    ];
    const mean = stated(determinations);
    expect(mean.standardUncertaintyPerMille).toBe(recorded.mean.standardUncertainty);
    expect(mean.effectiveDegreesOfFreedom).toBe(recorded.mean.degreesOfFreedom);
    expect(mean.betweenBlanksStandardDeviationPerMille).toBe(recorded.mean.between);
    expect(mean.spreadStandardDeviationPerMille).toBe(recorded.mean.spread);
    expect(mean.budget.map((line) => line.sharePercent)).toEqual(recorded.mean.shares);
    const median = stated(determinations, 'median of four');
    expect(median.standardUncertaintyPerMille).toBe(recorded.median.standardUncertainty);
    expect(median.effectiveDegreesOfFreedom).toBe(recorded.median.degreesOfFreedom);
    expect(median.finenessPerMille).toBeCloseTo((916.71 + 916.93) / 2, 10);
  });

  it('takes the own part from replicates by analysis of variance', () => {
    // A: 10, 12; B: 15, 17, 16. Means 11 and 16, within 2 + 2 = 4 with 3 degrees; total about 14 is
    // 34, between 30 with 1; n₀ = (5 − 13/5)/1 = 2.4; s_B² = (30 − 4/3)/2.4.
    const found = estimated([
      portion('A', 10, none),
      portion('A', 12, none),
      portion('B', 15, none),
      portion('B', 17, none),
      portion('B', 16, none),
    ]);
    expect(found.withinBlanksStandardDeviationPerMille ** 2).toBeCloseTo(4 / 3, 10);
    expect(found.betweenBlanksStandardDeviationPerMille ** 2).toBeCloseTo((30 - 4 / 3) / 2.4, 10);
    const own = 4 / 3 / 5;
    const between = (((30 - 4 / 3) / 2.4) * 13) / 25;
    expect(found.standardUncertaintyPerMille ** 2).toBeCloseTo(own + between, 10);
    expect(found.effectiveDegreesOfFreedom).toBeCloseTo(
      (own + between) ** 2 / (own ** 2 / 3 + between ** 2 / 1),
      9,
    );
    // F = 22.5 with 1 and 3 degrees of freedom: p = 0.0178 by any table of F.
    expect(found.betweenBlanksProbability).toBeCloseTo(0.0178, 3);
  });

  it('has no probability where portions of a blank agree exactly', () => {
    const same = [portion('A', 10), portion('A', 10), portion('B', 11), portion('B', 11)];
    expect(estimated(same).betweenBlanksProbability).toBeNull();
  });

  it.each([
    ['one blank', () => stated([portion('A', 1), portion('A', 2)]), 'at least two blanks'],
    [
      'a median of three',
      () => stated([portion('A', 1), portion('B', 2), portion('C', 3)], 'median of four'),
      'four determinations for the median',
    ],
    [
      'no blank determined twice',
      () => estimated([portion('A', 1), portion('B', 2)]),
      'more determinations than blanks',
    ],
  ])('refuses %s', (_, work, message) => {
    expect(work).toThrow(message);
  });
});

describe('lotFineness', () => {
  const example = lotFinenessCalculation.example;

  it('gives the figures by hand', () => {
    // (20·916.9 + 30·917.1 + 10·916.54)/60; own 0.12·√(4 + 9 + 1)/6; shared 0.03 as it is.
    const found = lotFineness(example);
    expect(found.meanFinenessPerMille).toBeCloseTo((20 * 916.9 + 30 * 917.1 + 10 * 916.54) / 60, 9);
    expect(found.ownStandardUncertaintyPerMille).toBeCloseTo((0.12 * Math.sqrt(14)) / 6, 12);
    expect(found.sharedStandardUncertaintyPerMille).toBeCloseTo(0.03, 12);
    expect(found.fineMassGrams).toBeCloseTo(20 * 916.9 + 30 * 917.1 + 10 * 916.54, 6);
    expect(found.worstMelt).toBe('M-3');
    const guard = 1.645 * Math.hypot(0.12, 0.03);
    expect(found.marginPerMille).toBeCloseTo(916.54 - guard - 916.5, 9);
    expect(found.meltsBelow).toEqual(['M-3']);
  });

  it('names a melt as the worst for its uncertainty too', () => {
    const melts = example.melts.map((one) =>
      one.label === 'M-1' ? { ...one, ownStandardUncertaintyPerMille: 1 } : one,
    );
    expect(lotFineness({ ...example, melts }).worstMelt).toBe('M-1');
    expect(lotFineness({ ...example, guaranteedFinenessPerMille: 916 }).words).toContain(
      'holds for every melt',
    );
  });

  it('refuses a mass below its uncertainty', () => {
    const melts = example.melts.map((one) => ({ ...one, massStandardUncertaintyGrams: 1e5 }));
    expect(() => lotFineness({ ...example, melts })).toThrow(
      'melts.0.massStandardUncertaintyGrams',
    );
  });
});
