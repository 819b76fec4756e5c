import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { algorithmA } from '../../src/control/precision/algorithm-a.ts';
import { homogeneity } from '../../src/control/precision/homogeneity.ts';
import { oneWayAnalysis } from '../../src/control/precision/one-way-analysis.ts';
import {
  type PrecisionExperimentOutput,
  precisionExperiment,
} from '../../src/control/precision/precision-experiment.ts';
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

type Rows = readonly Readonly<Record<string, string>>[];

/** Readings of a column by the groups of another; empty cells are missing. */
function groupsOf(rows: Rows, by: string, column: string): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  for (const row of rows) {
    if (row[column] === '' || row[column] === undefined) continue;
    const group = groups.get(row[by] ?? '') ?? [];
    group.push(Number(row[column]));
    groups.set(row[by] ?? '', group);
  }
  return groups;
}

const experimentOf = (groups: ReadonlyMap<string, number[]>): PrecisionExperimentOutput =>
  precisionExperiment({
    characteristic: 'Content',
    unit: '1',
    laboratories: [...groups].map(([name, results]) => ({ name, results, isExcluded: false })),
  });

const near = (found: number | null | undefined, right: number, relative = 1e-9) =>
  expect(Math.abs((found ?? Number.NaN) / right - 1)).toBeLessThan(relative);
const close = (found: number | null | undefined, right: number) =>
  expect(Math.abs((found ?? Number.NaN) - right)).toBeLessThan(6e-8 * Math.max(1, Math.abs(right)));

interface Figures {
  readonly labs: number;
  readonly N: number;
  readonly mean: number;
  readonly s_r: number;
  readonly s_L: number;
  readonly s_R: number;
  readonly cochran_C: number;
  readonly cochran_lab: string;
}

function expectFigures(output: PrecisionExperimentOutput, right: Figures): void {
  expect(output.laboratoryCount).toBe(right.labs);
  expect(output.resultCount).toBe(right.N);
  near(output.generalMean, right.mean);
  near(output.repeatabilityStandardDeviation, right.s_r);
  near(output.betweenLaboratoryStandardDeviation, right.s_L);
  near(output.reproducibilityStandardDeviation, right.s_R);
  const cochran = output.tests.find((test) => test.test === 'cochran');
  near(cochran?.statistic, right.cochran_C);
  expect(cochran?.laboratories).toEqual([right.cochran_lab]);
}

describe('collaborative studies, figures computed with R', () => {
  it('fibre in apricots: nine laboratories in duplicate', () => {
    const output = experimentOf(groupsOf(rowsOf('apricot.csv'), 'lab', 'fibre_g_per_100g'));
    const right = figures.apricot;
    expectFigures(output, right);
    near(output.repeatabilityLimit, right['r_limit_2.8']);
    near(output.reproducibilityLimit, right['R_limit_2.8']);
    near(output.betweenLaboratoryStandardDeviation, right.reml.sd_between, 1e-6);
    for (const row of output.laboratories) {
      close(row.h, right.h[row.name as keyof typeof right.h]);
      close(row.k, right.k[row.name as keyof typeof right.k]);
    }
  });

  it('arsenic in oysters: 29 laboratories, unequal numbers', () => {
    const output = experimentOf(groupsOf(rowsOf('oyster.csv'), 'lab', 'arsenic_ug_per_g'));
    const right = figures.oyster;
    expectFigures(output, right);
    for (const row of output.laboratories) {
      close(row.h, right.h[row.name as keyof typeof right.h]);
      close(row.k, right.k[row.name as keyof typeof right.k]);
    }
    const robust = algorithmA(output.laboratories.map((row) => row.mean ?? 0));
    near(robust.mean, right.algorithm_A_of_lab_means.robust_mean);
    near(robust.standardDeviation, right.algorithm_A_of_lab_means.robust_sd);
  });

  it.each(Object.entries(figures.glucose))('glucose in serum, material %s', (material, right) => {
    const rows = rowsOf('glucose.csv').filter((row) => row['material'] === material);
    const output = experimentOf(groupsOf(rows, 'lab', 'glucose_mg_per_dl'));
    near(output.generalMean, right.mean);
    near(output.standardDeviationOfMeans, right.s_xbar);
    near(output.repeatabilityStandardDeviation, right.s_r);
    near(output.reproducibilityStandardDeviation, right.s_R);
    for (const row of output.laboratories) {
      close(row.h, right.h[row.name as keyof typeof right.h]);
      close(row.k, right.k[row.name as keyof typeof right.k]);
    }
  });

  it.each(Object.entries(figures.water))('metals in water: %s', (metal, right) => {
    const groups = groupsOf(rowsOf('water.csv'), 'lab', metal);
    const output = experimentOf(groups);
    expectFigures(output, right);
    const robust = algorithmA(output.laboratories.map((row) => row.mean ?? 0));
    near(robust.mean, right.robust_of_lab_means.robust_mean);
    near(robust.standardDeviation, right.robust_of_lab_means.robust_sd);
  });
});

describe('homogeneity and observers, figures computed with R', () => {
  it('magnesium in five bars of a rod', () => {
    const groups = groupsOf(rowsOf('magnesium.csv'), 'bar', 'magnesium_units');
    const output = homogeneity({
      characteristic: 'Magnesium',
      unit: '1',
      items: [...groups].map(([name, results]) => ({ name, results })),
      confidencePercent: 95,
    });
    const right = figures.magnesium.anova_bar;
    near(output.sumOfSquaresBetween, right.ss_between);
    near(output.sumOfSquaresWithin, right.ss_within);
    near(output.ratio, right.F);
    near(output.probability, right.p);
    near(output.mean, figures.magnesium.summary.mean);
    expect(output.ratio ?? 0).toBeLessThan(output.criticalRatio);
  });

  it('paper thickness by 24 observers', () => {
    const groups = groupsOf(rowsOf('paper.csv'), 'operator', 'thickness_mm');
    const analysis = oneWayAnalysis([...groups.values()]);
    const { anova, variance_components: components } = figures.paper;
    near(analysis.ratio, anova.F);
    near(analysis.probability, anova.p);
    near(analysis.meanSquareWithin, components.repeatability);
    const between =
      (analysis.meanSquareBetween - analysis.meanSquareWithin) / analysis.effectiveCount;
    near(between, components.between_operators);
  });
});
