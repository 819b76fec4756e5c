import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { duplicatePrecision } from '../../src/control/precision/duplicate-precision.ts';
import figures from './figures.json' with { type: 'json' };
import fits from './fits.json' with { type: 'json' };

function pairsOf(file: string, first: number, second: number) {
  return readFileSync(new URL(file, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => {
      const cells = line.split(',');
      return { name: cells[0] ?? '', first: Number(cells[first]), second: Number(cells[second]) };
    });
}

const near = (found: number | null, right: number, relative = 1e-9) =>
  expect(Math.abs((found ?? Number.NaN) / right - 1)).toBeLessThan(relative);

const sets = [
  { name: 'stanley', right: figures.stanley, pairs: pairsOf('./stanley.csv', 1, 2), sign: 1 },
  { name: 'silver', right: figures.kola.ag, pairs: pairsOf('./kola.csv', 2, 3), sign: 1 },
  { name: 'copper', right: figures.kola.cu, pairs: pairsOf('./kola.csv', 4, 5), sign: 1 },
  { name: 'gold', right: figures.kola.au_inaa, pairs: pairsOf('./kola.csv', 6, 7), sign: 1 },
] as const;

describe('duplicates', () => {
  it.each(sets.map((set) => [set.name, set] as const))('%s: figures computed with R', (_, set) => {
    const output = duplicatePrecision({
      characteristic: set.name,
      unit: '1',
      pairs: set.pairs,
      groupSizePairs: 11,
      confidencePercent: 99,
    });
    const { right } = set;
    expect(output.pairCount).toBe(right.pairs);
    near(output.mean, right.mean);
    near(output.standardDeviation, right.sd_from_duplicates);
    near(output.relativeStandardDeviationPercent, right.rsd_percent_rms);
    near(Math.abs(output.meanDifference), Math.abs(right.bias));
    near(Math.abs(output.differenceT ?? 0), Math.abs(right.t_bias));
    expect(
      Math.abs((output.medianDifferencePercent ?? -1) - right.median_abs_percent_diff),
    ).toBeLessThan(1e-9);
  });

  it.each(Object.entries(fits))(
    '%s: the line of greatest likelihood is the one scipy finds',
    (name, right) => {
      const set = sets.find((one) => one.name === name);
      if (!set) throw new Error(`no set ${name}`);
      const output = duplicatePrecision({
        characteristic: name,
        unit: '1',
        pairs: set.pairs,
        groupSizePairs: 11,
        confidencePercent: 99,
      });
      const scale = output.mean;
      expect(Math.abs((output.fitted?.atZero ?? -1) - right.atZero) / scale).toBeLessThan(2e-6);
      expect(Math.abs((output.fitted?.perLevel ?? -1) - right.perLevel)).toBeLessThan(2e-6);
    },
  );
});
