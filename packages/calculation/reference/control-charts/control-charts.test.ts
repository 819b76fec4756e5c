import { describe, expect, it } from 'vitest';
import { cusum } from '../../src/control/cusum.ts';
import { ewma } from '../../src/control/ewma.ts';
import { orderedPercentile } from '../../src/control/ordered-percentile.ts';
import { seriesStatistics } from '../../src/control/series-statistics.ts';
import { shewhartAttributes } from '../../src/control/shewhart-attributes.ts';
import { shewhartVariables } from '../../src/control/shewhart-variables.ts';
import values from './values.json' with { type: 'json' };

/** Half a unit of the last printed decimal. */
const half = (decimals: number): number => 0.5 * 10 ** -decimals * (1 + 1e-9);
const exactD2 = 2 / Math.sqrt(Math.PI);
const printedD2 = 1.128;

const individuals = (readings: readonly number[]) =>
  shewhartVariables({
    data: { chart: 'individuals', values: [...readings] },
    limits: { from: 'data' },
    rules: [],
  });

/** A limit of single readings as it comes out with d2 rounded to 1.128. */
const withPrintedD2 = (limit: number, centre: number): number =>
  centre + ((limit - centre) * exactD2) / printedD2;

describe('cumulative sums, handbook 6.3.2.3', () => {
  const { printed, computed, values: means } = values.cusum;
  const output = cusum({
    values: means,
    target: printed.target,
    standardDeviation: 1,
    referenceValue: printed['k (half of 0.635)'],
    decisionInterval: printed.h,
    headstart: 0,
  });

  it('gives the printed sums, and those of another program', () => {
    output.points.forEach((point, index) => {
      const high = printed['S_hi (2 decimals)'][index] as number;
      const low = printed['S_lo (2 decimals)'][index] as number;
      // A tie such as 14.445 is printed rounded either way.
      expect(Math.abs(point.upperSum - high)).toBeLessThanOrEqual(half(2) + 1e-9);
      expect(Math.abs(point.lowerSum - low)).toBeLessThanOrEqual(half(2) + 1e-9);
      expect(point.upperSum).toBeCloseTo(computed.s_hi[index] as number, 9);
      expect(point.lowerSum).toBeCloseTo(computed.s_lo[index] as number, 9);
      expect(point.cumulativeSum).toBeCloseTo(computed.cusum[index] as number, 9);
    });
    expect(output.points).toHaveLength(20);
  });

  it('signals high from group 14 to 20, changed since group 13', () => {
    expect(output.signals).toHaveLength(1);
    expect(output.signals[0]).toMatchObject({
      side: 'high',
      firstNumber: computed.first_signal_group,
      lastNumber: 20,
      // The sum was last 0 after group 12.
      changePoint: 13,
    });
    expect(output.words).toContain('Values 14 to 20 signal a higher level');
  });
});

describe('weighted averages, handbook 6.3.2.4', () => {
  const { printed, computed, values: readings } = values.ewma;
  const output = ewma({
    values: readings,
    target: printed.EWMA_0,
    standardDeviation: printed.s,
    smoothing: printed.lambda,
    limitFactor: 3,
    limits: 'asymptotic',
  });

  it('gives the printed averages and limits', () => {
    output.points.forEach((point, index) => {
      const average = printed['EWMA series (2 decimals)'][index] as number;
      expect(Math.abs(point.value - average)).toBeLessThanOrEqual(half(2));
      expect(point.value).toBeCloseTo(computed.ewma[index] as number, 9);
    });
    expect(Math.abs(output.asymptoticUpperLimit - printed.UCL)).toBeLessThanOrEqual(half(4));
    expect(output.asymptoticLowerLimit).toBeCloseTo(computed.lcl, 9);
    // The page rounds the root to 0.4201 before it multiplies; exactly the limit is 47.4116.
    const onThePage = printed.EWMA_0 - 3 * 0.4201 * printed.s;
    expect(Math.abs(onThePage - printed.LCL)).toBeLessThanOrEqual(half(4));
    expect(output.outside).toEqual([]);
  });
});

describe('single readings', () => {
  it('flow rates, handbook 6.3.2.2: centre line, limits, in control', () => {
    const { printed, values: readings } = values.flowRate;
    const output = individuals(readings);
    const [first] = output.location;
    expect(output.centreLine).toBeCloseTo(printed.mean, 9);
    const meanRange = output.standardDeviation * exactD2;
    expect(Math.abs(meanRange - printed['mean moving range'])).toBeLessThanOrEqual(half(4));
    const upper = withPrintedD2(first?.upperLimit ?? 0, output.centreLine);
    const lower = withPrintedD2(first?.lowerLimit ?? 0, output.centreLine);
    expect(Math.abs(upper - printed.UCL)).toBeLessThanOrEqual(half(4));
    expect(Math.abs(lower - printed.LCL)).toBeLessThanOrEqual(half(4));
    expect([...output.locationOutside, ...output.spreadOutside]).toEqual([]);
  });

  it.each(Object.entries(values.kola.columns))(
    'control standard of the Kola survey: %s',
    (name, readings) => {
      const computed = values.kola.computed[name as keyof typeof values.kola.computed];
      const output = individuals(readings);
      const [first] = output.location;
      const upper = withPrintedD2(first?.upperLimit ?? 0, output.centreLine);
      const lower = withPrintedD2(first?.lowerLimit ?? 0, output.centreLine);
      expect(upper).toBeCloseTo(computed.individuals_ucl, 8);
      expect(lower).toBeCloseTo(computed.individuals_lcl, 8);
      expect(output.lagOneAutocorrelation).toBeCloseTo(computed.lag1, 9);
      const beyond = [computed.beyond].flat();
      expect(output.locationOutside).toEqual(beyond);
    },
  );

  it.each(Object.entries(values.gsc.materials))('reference material %s', (name, readings) => {
    const computed = values.gsc.computed[name as keyof typeof values.gsc.computed];
    const output = individuals(readings);
    expect(output.centreLine).toBeCloseTo(computed.mean, 8);
    expect(output.standardDeviation * exactD2).toBeCloseTo(computed.mr_bar, 8);
    expect(seriesStatistics(readings).standardDeviation).toBeCloseTo(computed.sd, 8);
  });

  it('control values of a calibration line against their t limit, handbook 2.3.7', () => {
    const { w_values_um: controls, ...limits } = values.lineWidthControl.computed;
    const output = shewhartVariables({
      data: { chart: 'individuals', values: controls },
      // The limit of the handbook is a t quantile times the deviation of the line.
      limits: { from: 'standard', mean: 0, standardDeviation: limits['limit_t_0.975'] / 2 },
      limitFactor: 2,
      rules: [],
    });
    expect(output.locationOutside).toEqual(limits['beyond_t_0.975']);
  });
});

describe('kilogram check standard, handbook 2.3.5', () => {
  const { values: checks, standardDeviations, computed } = values.massCheckStandard;
  const base = computed.baseline_first_117;

  it('three-sigma limits from the standard deviation of the first 117 checks', () => {
    const output = shewhartVariables({
      data: { chart: 'individuals', values: checks },
      limits: { from: 'standard', mean: base.mean, standardDeviation: base.sd },
      rules: [],
    });
    const [first] = output.location;
    expect(first?.lowerLimit).toBeCloseTo(base.shewhart_3s.lcl, 8);
    expect(first?.upperLimit).toBeCloseTo(base.shewhart_3s.ucl, 8);
    const beyond = output.locationOutside;
    expect(beyond.filter((number) => number <= 117)).toHaveLength(
      base.shewhart_3s.beyond_in_baseline,
    );
    expect(beyond).toEqual(base.shewhart_3s.points_after_beyond);
  });

  it('precision: pooled deviation, 351 degrees of freedom and the F limit of the handbook', () => {
    const output = shewhartVariables({
      data: {
        chart: 'summaries',
        summaries: standardDeviations.map((standardDeviation, index) => ({
          mean: checks[index] as number,
          standardDeviation,
          sizePieces: 4,
        })),
      },
      limits: { from: 'data', phaseOneCount: 117 },
      spreadEstimate: 'pooled',
      spreadAlarmProbability: 0.01,
      rules: [],
    });
    expect(output.standardDeviation).toBeCloseTo(base.pooled_residual_sd, 12);
    expect(output.spread[0]?.upperLimit).toBeCloseTo(base.sd_chart_ucl_99, 11);
    const outside = output.spreadOutside;
    expect(outside.filter((number) => number <= 117)).toHaveLength(
      base.sd_points_above_ucl_baseline,
    );
    expect(outside.filter((number) => number > 117)).toHaveLength(base.sd_points_above_ucl_after);
  });

  it('the level moved after the base period, and a cumulative sum sees it', () => {
    const output = cusum({
      values: checks.slice(117),
      target: base.mean,
      standardDeviation: base.sd,
      referenceValue: 0.5,
      decisionInterval: 5,
      headstart: 0,
    });
    // Mean of the first 117 is -19.4774, of the last 100 -19.4495.
    expect(output.signals[0]?.side).toBe('high');
  });
});

describe('means of subgroups', () => {
  it('gear diameters: limits with the rounded A2, D3, D4 of a table', () => {
    const { subgroups, computed } = values.gears;
    const output = shewhartVariables({
      data: { chart: 'mean-range', subgroups },
      limits: { from: 'data' },
      rules: [],
    });
    expect(output.centreLine).toBeCloseTo(computed.xbar_bar, 12);
    expect(output.standardDeviation * (output.constants?.d2 ?? 0)).toBeCloseTo(computed.r_bar, 12);
    // A2 is 0.308 in the table and 0.30826 exactly: 3e-4 of a mean range of 0.0181.
    const tolerance = 0.0005 * computed.r_bar;
    const [mean, range] = [output.location[0], output.spread[0]];
    const [meanLower, meanUpper] = computed['xbar_r_limits_A2_0.308'];
    const [rangeLower, rangeUpper] = computed['r_limits_D3_0.223_D4_1.777'];
    expect(Math.abs((mean?.lowerLimit ?? 0) - (meanLower ?? 1))).toBeLessThan(tolerance);
    expect(Math.abs((mean?.upperLimit ?? 0) - (meanUpper ?? 1))).toBeLessThan(tolerance);
    expect(Math.abs((range?.lowerLimit ?? 0) - (rangeLower ?? 1))).toBeLessThan(tolerance);
    expect(Math.abs((range?.upperLimit ?? 0) - (rangeUpper ?? 1))).toBeLessThan(tolerance);
  });

  it('gear diameters: mean standard deviation', () => {
    const { subgroups, computed } = values.gears;
    const output = shewhartVariables({
      data: { chart: 'mean-standard-deviation', subgroups },
      limits: { from: 'data' },
      rules: [],
    });
    expect(output.standardDeviation * (output.constants?.c4 ?? 0)).toBeCloseTo(computed.s_bar, 12);
  });

  it('line widths: cassettes differ far more than their own spread allows', () => {
    const { subgroups, computed } = values.lithography;
    const output = shewhartVariables({
      data: { chart: 'mean-standard-deviation', subgroups },
      limits: { from: 'data' },
      spreadEstimate: 'pooled',
      rules: ['western-electric-4'],
    });
    expect(output.centreLine).toBeCloseTo(computed.summary.mean, 10);
    // Pooled within cassettes: wafers and sites of the nested analysis of variance together.
    const { wafer, site } = computed.nested_anova;
    const within = (wafer.df * wafer.ms + site.df * site.ms) / (wafer.df + site.df);
    expect(output.standardDeviation ** 2).toBeCloseTo(within, 10);
    // The mean square of cassettes is 20 times that within: most means cannot lie inside.
    expect(output.locationOutside.length).toBeGreaterThan(10);
    expect(seriesStatistics(subgroups.flat()).lagOneAutocorrelation).toBeCloseTo(
      computed.lag1_autocorrelation,
      10,
    );
  });
});

describe('fraction nonconforming, handbook 6.3.3.2', () => {
  const { printed, computed, sizePieces, nonconformingPieces } = values.wafers;
  const common = {
    limits: { from: 'data' as const },
    limitKind: { kind: 'sigma' as const, limitFactor: 3 },
    rules: [],
  };

  it('the mean fraction printed, limits and wafers outside as computed, by p and np', () => {
    const samples = nonconformingPieces.map((count) => ({
      nonconformingPieces: count,
      sizePieces,
    }));
    const fraction = shewhartAttributes({ ...common, data: { chart: 'p', samples } });
    const number = shewhartAttributes({
      ...common,
      data: { chart: 'np', sizePieces, nonconformingPieces },
    });
    expect(Math.abs(fraction.centreLine - printed['mean fraction'])).toBeLessThanOrEqual(half(4));
    expect(fraction.points[0]?.upperLimit).toBeCloseTo(computed.ucl, 10);
    expect(fraction.points[0]?.lowerLimit).toBeCloseTo(computed.lcl, 10);
    expect(fraction.outside).toEqual(computed.beyond);
    expect(number.outside).toEqual(computed.beyond);
    expect(number.points[0]?.upperLimit).toBeCloseTo(50 * computed.ucl, 9);
  });
});

describe('percentiles, handbook 7.2.6.2', () => {
  it.each([
    ['n+1', '90th percentile, rule (n+1)p'],
    ['n-1', '90th percentile, rule 1+(n-1)p'],
    ['n+1/3', '90th percentile, rule 1/3+(n+1/3)p'],
  ] as const)('rule %s', (rule, printed) => {
    const ascending = [...values.resistivity.values].sort((a, b) => a - b);
    const point = orderedPercentile(ascending, 0.9, rule);
    expect(Math.abs(point - values.resistivity.printed[printed])).toBeLessThanOrEqual(half(4));
  });
});
