import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitStraightLine, lineAt, lineErrorsAt } from '../../src/mass/straight-line.ts';
import { likeliestJump } from '../../src/mass/weight-jump.ts';
import { coverageFactor } from '../../src/uncertainty/coverage.ts';
import generated from '../generated/mass/values.json' with { type: 'json' };
import figures from './figures.json' with { type: 'json' };

const rows = readFileSync(new URL('./values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',').map(Number));
const years = rows.map((row) => row[0] ?? 0);
const values = rows.map((row) => row[1] ?? 0);

const mean = (items: readonly number[]) => items.reduce((sum, one) => sum + one, 0) / items.length;

describe('the kilogram check standard', () => {
  it('has the means before and after the shift of 1985 that were computed elsewhere', () => {
    expect(values).toHaveLength(figures.count);
    expect(mean(values.slice(0, 117))).toBeCloseTo(figures.first117.mean, 9);
    expect(mean(values.slice(117))).toBeCloseTo(figures.last100.mean, 9);
    expect(years[116]).toBe(figures.first117.lastDate);
  });

  it('drifts by the line and interval of scipy', () => {
    const { line } = generated.checkStandard;
    const fit = fitStraightLine(years, values);
    const factor = coverageFactor(0.95, fit.degreesOfFreedom);
    const half = (factor * fit.residualStandardDeviation) / Math.sqrt(fit.spreadX);
    expect(fit.slope / line.slope).toBeCloseTo(1, 10);
    expect(half / line.slopeHalf).toBeCloseTo(1, 10);
    expect(lineAt(fit, 91) / line.value).toBeCloseTo(1, 10);
    expect((factor * lineErrorsAt(fit, 91).single) / line.half).toBeCloseTo(1, 10);
  });

  it('jumps where full least squares at every place finds it', () => {
    const { jump } = generated.checkStandard;
    const found = likeliestJump(years, values);
    expect(found?.index).toBe(jump.index);
    expect((found?.size ?? 0) / jump.size).toBeCloseTo(1, 9);
    expect((found?.probability ?? 0) / jump.probability).toBeCloseTo(1, 6);
  });

  it('jumps up after 1985, as the handbook teaches, in a history that starts in 1982', () => {
    const from = years.findIndex((year) => year > 82);
    const found = likeliestJump(years.slice(from), values.slice(from));
    const date = years[from + (found?.index ?? 0)] ?? 0;
    expect(date).toBeGreaterThan(85);
    expect(date).toBeLessThan(87);
    // The level rose by 0.0279 mg from the first 117 to the last 100 values.
    const rise = figures.last100.mean - figures.first117.mean;
    expect((found?.size ?? 0) / rise).toBeCloseTo(1, 0);
    expect(found?.probability ?? 1).toBeLessThan(0.01);
  });
});
