import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { algorithmA } from '../../src/control/precision/algorithm-a.ts';
import { youdenPairs } from '../../src/control/precision/youden-pairs.ts';
import figures from './figures.json' with { type: 'json' };

const laboratoriesOf = (file: string) =>
  readFileSync(new URL(file, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => {
      const [name = '', first, second] = line.split(',');
      return { name, first: Number(first), second: Number(second), isExcluded: false };
    });

const near = (found: number | null, right: number) =>
  expect(Math.abs((found ?? Number.NaN) / right - 1)).toBeLessThan(1e-9);
const common = { characteristic: 'Content', unit: '1', confidencePercent: 95 };

describe('two-sample data, figures computed with R', () => {
  it('thirty laboratories of ASTM E2489', () => {
    const laboratories = laboratoriesOf('two-samples.csv');
    const output = youdenPairs({ ...common, laboratories });
    const { sample1, sample2, correlation } = figures.twoSamples;
    near(output.firstMean, sample1.mean);
    near(output.firstStandardDeviation, sample1.sd);
    near(output.firstMedian, sample1.median);
    near(output.secondMean, sample2.mean);
    near(output.secondStandardDeviation, sample2.sd);
    near(output.secondMedian, sample2.median);
    near(output.correlation, correlation);
    const robust = algorithmA(laboratories.map((laboratory) => laboratory.first));
    near(robust.mean, sample1.robust_mean);
    near(robust.standardDeviation, sample1.robust_sd);
  });

  it('potassium: the laboratory that exchanged the materials stands out across the line', () => {
    const laboratories = laboratoriesOf('potassium.csv');
    const output = youdenPairs({ ...common, laboratories });
    near(output.correlation, figures.potassium.correlation);
    near(output.firstMean, figures.potassium.qc.mean);
    near(output.secondStandardDeviation, figures.potassium.rm.sd);
    const farthest = output.laboratories.toSorted((a, b) => b.ellipseRatio - a.ellipseRatio)[0];
    expect(farthest?.fault).toBe('random');
    const exchanged = laboratories.find((laboratory) => laboratory.name === farthest?.name);
    // What it reports for one material is what the others find in the other one.
    expect(exchanged?.first).toBeLessThan(exchanged?.second ?? 0);
    const without = youdenPairs({
      ...common,
      laboratories: laboratories.map((one) => ({ ...one, isExcluded: one === exchanged })),
    });
    expect(without.withinStandardDeviation).toBeLessThan(output.withinStandardDeviation / 2);
    expect(without.correlation ?? 0).toBeGreaterThan(0.5);
  });
});
