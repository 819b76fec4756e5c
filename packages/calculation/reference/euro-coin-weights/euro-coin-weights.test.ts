import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { nestedSample } from '../../src/counting/nested-sample.ts';
import { sampleMoments, sampleQuantile } from '../../src/quantity/sample-moments.ts';
import { weightStatistics } from '../../src/weights/weight-statistics.ts';
import figures from './figures.json' with { type: 'json' };

const coins = readFileSync(new URL('./values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [, packageName, mass] = line.split(',');
    return { packageName: packageName as string, massGrams: Number(mass) };
  });
const all = coins.map((coin) => coin.massGrams);
const packages = Object.keys(figures.per_package).map((name) =>
  coins.filter((coin) => coin.packageName === name).map((coin) => coin.massGrams),
);

function expectNear(found: number | null, expected: number): void {
  expect(Math.abs((found ?? Number.NaN) / expected - 1)).toBeLessThan(1e-10);
}

describe('2000 coins together', () => {
  const result = weightStatistics({
    massesGrams: all,
    lowerLimitGrams: 7.4,
    upperLimitGrams: 7.6,
    declaredMassGrams: 7.5,
  });

  it('mean, spread, ends and shape are those computed elsewhere', () => {
    expect(result.countPieces).toBe(figures.all.n);
    expectNear(result.meanGrams, figures.all.mean);
    expectNear(result.standardDeviationGrams, figures.all.sd);
    expect(result.minimumGrams).toBe(figures.all.min);
    expect(result.maximumGrams).toBe(figures.all.max);
    expectNear(result.medianGrams, figures.all.median);
    expectNear(result.skewness, figures.all.skewness_moment);
    expectNear(result.kurtosis, figures.all.kurtosis_moment);
  });

  it('quartiles follow interpolation rule 7', () => {
    const quantile = (probability: number) =>
      result.quantiles.find((entry) => entry.probability === probability)?.massGrams ?? null;
    expectNear(quantile(0.25), figures.all.q1_type7);
    expectNear(quantile(0.75), figures.all.q3_type7);
  });

  it('as many coins lie outside 7.4 g to 7.6 g as counted elsewhere', () => {
    const outside = (result.belowLowerLimitPieces ?? 0) + (result.aboveUpperLimitPieces ?? 0);
    expect(outside).toBe(figures['count_outside_7.5_plus_minus_0.1']);
  });

  it('the mass given away is the total less 2000 times the nominal mass', () => {
    const total = Object.values(figures.total_mass_per_package_g).reduce(
      (sum, mass) => sum + mass,
      0,
    );
    expect(result.giveawayTotalGrams).toBeCloseTo(total - 2000 * 7.5, 8);
  });

  it('normal theory is refused, as the article found', () => {
    expect(result.normalTheory).toBe('refused');
    expect(result.normalTheoryReason).toContain('stray light piece lies 9.31 standard deviations');
    expect(result.belowLowerLimitNormalFraction).toBeNull();
  });

  it('without the two strays it is still refused, as another test of shape has it', () => {
    const kept = all.filter((mass) => mass > 7.3 && mass < 7.7);
    const expected = figures['without_weights_outside_7.3_7.7'];
    const moments = sampleMoments(kept);
    expect(kept).toHaveLength(expected.n);
    expectNear(moments.mean, expected.mean);
    expectNear(moments.standardDeviation, expected.sd);
    expectNear(moments.skewness, expected.skewness_moment);
    expectNear(moments.kurtosis, expected.kurtosis_moment);
    expectNear(
      sampleQuantile(
        [...kept].sort((a, b) => a - b),
        0.75,
      ),
      expected.q3_type7,
    );
    expect(expected.shapiro_p).toBeLessThan(0.005);
    expect(weightStatistics({ massesGrams: kept }).normalTheory).toBe('refused');
  });
});

describe('the eight packages', () => {
  it.each(Object.entries(figures.per_package))('package %s', (name, expected) => {
    const masses = packages[Number(name) - 1] ?? [];
    const result = weightStatistics({ massesGrams: masses });
    expect(result.countPieces).toBe(expected.n);
    expectNear(result.meanGrams, expected.mean);
    expectNear(result.standardDeviationGrams, expected.sd);
    expect(result.minimumGrams).toBe(expected.min);
    expect(result.maximumGrams).toBe(expected.max);
  });

  it('mean squares between and within packages are those of the analysis of variance', () => {
    const nested = nestedSample(packages);
    expectNear(nested.meanSquareBetween, figures.anova.ms_between);
    expectNear(nested.meanSquareWithin, figures.anova.ms_within);
    // Package means differ by about 7 mg beside a piece to piece deviation of 34 mg.
    expect(nested.lotStandardDeviationGrams).toBeCloseTo(0.00728, 5);
  });
});
