import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  type GaugeStudyInput,
  type GaugeStudyOutput,
  gaugeStudy,
} from '../../src/control/precision/gauge-study.ts';
import { repeatabilityLevels } from '../../src/control/precision/repeatability-levels.ts';
import figures from './figures.json' with { type: 'json' };

function rowsOf(file: string): Readonly<Record<string, string>>[] {
  const [head = '', ...lines] = readFileSync(new URL(file, import.meta.url), 'utf8')
    .trim()
    .split('\n');
  const names = head.split(',');
  return lines.map((line) =>
    Object.fromEntries(line.split(',').map((cell, index) => [names[index] ?? '', cell])),
  );
}

const common = {
  characteristic: 'Reading',
  unit: '1',
  poolingSignificancePercent: 25,
  studyMultiplier: 6,
  confidencePercent: 95,
  intervalMethod: 'modified-large-sample',
} as const;

function studyOf(
  file: string,
  design: GaugeStudyInput['design'],
  columns: readonly [string, string, string],
): GaugeStudyOutput {
  const [part, operator, value] = columns;
  const readings = rowsOf(file).map((row) => ({
    part: row[part] ?? '',
    operator: row[operator] ?? '',
    value: Number(row[value]),
  }));
  return gaugeStudy({ ...common, design, readings });
}

const component = (output: GaugeStudyOutput, source: string) =>
  output.components.find((one) => one.source === source);
const analysis = (output: GaugeStudyOutput, source: string) =>
  output.analysis.find((one) => one.source === source);
const near = (found: number | null | undefined, right: number, relative = 1e-10) =>
  expect(Math.abs((found ?? Number.NaN) / right - 1)).toBeLessThan(relative);

describe('ten parts, three operators, three repeats', () => {
  const output = studyOf('ten-parts.csv', 'crossed', ['part', 'operator', 'measurement_units']);
  const { anova_full: anova, pooled_model: pooled } = figures.tenParts.computed;

  it('has the analysis of variance computed with R', () => {
    for (const [source, key] of [
      ['part', 'part'],
      ['operator', 'operator'],
      ['part-by-operator', 'interaction'],
      ['repeatability', 'repeatability'],
    ] as const) {
      const row = analysis(output, source);
      expect(row?.degreesOfFreedom).toBe(anova[key].df);
      near(row?.sumOfSquares, anova[key].ss);
      near(row?.meanSquare, anova[key].ms);
    }
    near(analysis(output, 'part')?.ratio, figures.tenParts.computed.F_vs_interaction.part);
    near(
      analysis(output, 'part-by-operator')?.probability,
      figures.tenParts.computed.p_interaction,
    );
  });

  it('has the published figures with the interaction pooled', () => {
    expect(output.isInteractionPooled).toBe(true);
    // Printed to six places: 0.199933, 0.226838, 0.302373 (0.302372 computed), 1.042327, 1.085.
    for (const [source, printed, tolerance] of [
      ['repeatability', 0.199933, 5.1e-7],
      ['reproducibility', 0.226838, 5.1e-7],
      ['gauge', 0.302373, 1.6e-6],
      ['part', 1.042327, 5.1e-7],
      ['total', 1.085, 5e-4],
    ] as const) {
      const found = component(output, source)?.standardDeviation ?? Number.NaN;
      expect(Math.abs(found - printed), source).toBeLessThan(tolerance);
    }
    near(component(output, 'gauge')?.standardDeviation, pooled.GRR);
    near(component(output, 'part')?.contributionPercent, pooled.pct_contribution.PV);
    near(component(output, 'gauge')?.studyVariationPercent, pooled.pct_study_variation.GRR);
    near(
      component(output, 'reproducibility')?.studyVariationPercent,
      pooled.pct_study_variation.AV,
    );
    near(output.distinctCategories, pooled.ndc_raw);
    expect(output.distinctCategoriesWhole).toBe(4);
  });

  it('has the figures by averages and ranges that common practice gives', () => {
    // From memory: 0.20188, 0.22963, 0.30573, 1.10456, 1.14610, 26.68 %; factors printed to four places.
    const ranges = output.rangeMethod;
    for (const [found, printed] of [
      [ranges?.repeatabilityStandardDeviation, 0.20188],
      [ranges?.reproducibilityStandardDeviation, 0.22963],
      [ranges?.gaugeStandardDeviation, 0.30573],
      [ranges?.partStandardDeviation, 1.10456],
      [ranges?.totalStandardDeviation, 1.1461],
      [ranges?.gaugeStudyVariationPercent, 26.68],
    ] as const) {
      near(found, printed, 4e-4);
    }
  });
});

describe('strength of a paste: batches, casks, assays', () => {
  const output = studyOf('pastes.csv', 'nested', ['cask', 'batch', 'strength']);
  const { nested_anova: anova, anova_components: components, reml } = figures.pastes;

  it('has the nested analysis computed with R, and its components', () => {
    near(analysis(output, 'operator')?.sumOfSquares, anova.batch.ss);
    near(analysis(output, 'part')?.sumOfSquares, anova.cask.ss);
    near(analysis(output, 'repeatability')?.sumOfSquares, anova.assay.ss);
    expect(analysis(output, 'part')?.degreesOfFreedom).toBe(anova.cask.df);
    near(component(output, 'operator')?.variance, components.batch);
    near(component(output, 'part')?.variance, components.cask);
    near(component(output, 'repeatability')?.variance, components.assay);
  });

  it('has the components that restricted likelihood gives by iteration', () => {
    near(component(output, 'operator')?.variance, reml.variances.batch, 1e-6);
    near(component(output, 'part')?.variance, reml.variances.sample, 1e-6);
    near(output.mean, reml.mean, 1e-7);
  });
});

describe('diameters by machine and day', () => {
  it('has the sums of squares of machine, day and both together', () => {
    const output = studyOf('machines.csv', 'crossed', ['day', 'machine', 'diameter_units']);
    const full = figures.machines.anova_machine_day_halfday;
    expect(output.repeatCount).toBe(20);
    near(analysis(output, 'operator')?.sumOfSquares, full.machine.ss);
    near(analysis(output, 'part')?.sumOfSquares, full.day.ss);
    near(analysis(output, 'part-by-operator')?.sumOfSquares, full['machine:day'].ss);
    // What the table puts down to the half of the day lies in repeatability here.
    const rest = [
      full.half_day,
      full['machine:half_day'],
      full['day:half_day'],
      full['machine:day:half_day'],
      full.Residuals,
    ].reduce((sum, row) => sum + row.ss, 0);
    near(analysis(output, 'repeatability')?.sumOfSquares, rest);
  });
});

const dayOf = (row: Readonly<Record<string, string>>) => ({
  mean: Number(row['mean_resistivity_ohm_cm']),
  standardDeviation: Number(row['sd_resistivity_ohm_cm']),
  readingCount: 6,
});

/** Runs of the rows of one wafer and one probe, in the order of the file. */
function runsOf(rows: readonly Readonly<Record<string, string>>[]) {
  return [...new Set(rows.map((row) => row['run'] ?? ''))].map((name) => ({
    name,
    days: rows.filter((row) => row['run'] === name).map(dayOf),
  }));
}

const levelsOf = (artefacts: Parameters<typeof repeatabilityLevels>[0]['artefacts']) =>
  repeatabilityLevels({
    characteristic: 'Resistivity',
    unit: 'ohm cm',
    artefacts,
    reportedReadingCount: 6,
    confidencePercent: 95,
  });

describe('resistivity over days and runs', () => {
  it('gives the printed repeatability of section 2.4.4.1: 0.07871 with 60 degrees of freedom', () => {
    const output = levelsOf([{ name: '140', runs: runsOf(rowsOf('one-wafer.csv')) }]);
    const { s1, s2_pooled_over_runs: s2, s3_run_to_run: s3, ss, df } = figures.oneWafer.computed;
    expect(output.readings.degreesOfFreedom).toBe(60);
    expect(output.readings.standardDeviation.toFixed(5)).toBe('0.07871');
    expect((output.readings.standardDeviation ** 2 * df).toFixed(5)).toBe('0.37176');
    near(output.readings.standardDeviation ** 2 * df, ss);
    near(output.readings.standardDeviation, s1);
    near(output.days.standardDeviation, s2);
    near(output.runs?.standardDeviation, s3);
  });

  it.each(Object.entries(figures.probes))('pools five wafers for probe %s', (probe, right) => {
    const rows = rowsOf('probes.csv').filter((row) => row['probe'] === probe);
    const wafers = [...new Set(rows.map((row) => row['wafer'] ?? ''))];
    const output = levelsOf(
      wafers.map((name) => ({ name, runs: runsOf(rows.filter((row) => row['wafer'] === name)) })),
    );
    near(output.readings.standardDeviation, right.s1_repeatability);
    near(output.days.standardDeviation, right.s2_day_to_day);
    near(output.runs?.standardDeviation, right.s3_run_to_run);
    expect([
      output.readings.degreesOfFreedom,
      output.days.degreesOfFreedom,
      output.runs?.degreesOfFreedom,
    ]).toEqual([right.s1_df, right.s2_df, right.s3_df]);
  });
});
