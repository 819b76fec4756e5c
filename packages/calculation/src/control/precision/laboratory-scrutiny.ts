import { cochranCritical, grubbsCritical } from './extreme-tests.ts';
import { grubbsPairCritical } from './largest-deviate.ts';
import { grubbsPairStatistic } from './outlier-tests.ts';
import type { PrecisionTest } from './precision-experiment-schema.ts';

/** A laboratory with at least two results, as the tests see it. */
export interface Cell {
  readonly name: string;
  readonly count: number;
  readonly mean: number;
  readonly standardDeviation: number;
}

/** Beyond the 5 % value a straggler, beyond the 1 % value an outlier. */
export function verdictOf(
  statistic: number,
  criticalValue5Percent: number,
  criticalValue1Percent: number,
): PrecisionTest['verdict'] {
  if (statistic > criticalValue1Percent) return 'outlier';
  return statistic > criticalValue5Percent ? 'straggler' : 'in-line';
}

/** The number of results that most laboratories have; the smaller one of two that are as frequent. */
export function usualCount(cells: readonly Cell[]): number {
  const frequencies = new Map<number, number>();
  for (const { count } of cells) frequencies.set(count, (frequencies.get(count) ?? 0) + 1);
  const ranked = [...frequencies].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  return ranked[0]?.[0] ?? 2;
}

function cochranTest(cells: readonly Cell[]): PrecisionTest {
  const variances = cells.map((cell) => cell.standardDeviation ** 2);
  const total = variances.reduce((sum, one) => sum + one, 0);
  const largest = Math.max(...variances);
  const replicates = usualCount(cells);
  const statistic = total > 0 ? largest / total : 0;
  const five = cochranCritical(0.05, cells.length, replicates);
  const one = cochranCritical(0.01, cells.length, replicates);
  return {
    test: 'cochran',
    statistic,
    laboratories: [cells[variances.indexOf(largest)]?.name ?? ''],
    criticalValue5Percent: five,
    criticalValue1Percent: one,
    verdict: verdictOf(statistic, five, one),
  };
}

function meanDeviation(cells: readonly Cell[]): { mean: number; deviation: number } {
  const mean = cells.reduce((sum, cell) => sum + cell.mean, 0) / cells.length;
  const squares = cells.reduce((sum, cell) => sum + (cell.mean - mean) ** 2, 0);
  return { mean, deviation: Math.sqrt(squares / (cells.length - 1)) };
}

/** Grubbs for the highest and for the lowest mean; none where the means are equal. */
function singleTests(cells: readonly Cell[]): PrecisionTest[] {
  const { mean, deviation } = meanDeviation(cells);
  if (deviation === 0) return [];
  const sorted = cells.toSorted((a, b) => a.mean - b.mean);
  // Both ends are watched: each gets half of 5 % and of 1 %.
  const five = grubbsCritical(0.025, cells.length);
  const one = grubbsCritical(0.005, cells.length);
  return (['grubbs-high', 'grubbs-low'] as const).map((test) => {
    const suspect = (test === 'grubbs-high' ? sorted[sorted.length - 1] : sorted[0]) as Cell;
    const statistic = Math.abs(suspect.mean - mean) / deviation;
    return {
      test,
      statistic,
      laboratories: [suspect.name],
      criticalValue5Percent: five,
      criticalValue1Percent: one,
      verdict: verdictOf(statistic, five, one),
    };
  });
}

/** Grubbs for the two highest and the two lowest means: small statistics are significant. */
function pairTests(cells: readonly Cell[]): PrecisionTest[] {
  if (cells.length < 4 || meanDeviation(cells).deviation === 0) return [];
  const five = grubbsPairCritical(0.025, cells.length);
  const one = grubbsPairCritical(0.005, cells.length);
  return (['grubbs-two-high', 'grubbs-two-low'] as const).map((test) => {
    const sign = test === 'grubbs-two-high' ? 1 : -1;
    const sorted = cells.toSorted((a, b) => sign * (a.mean - b.mean));
    const statistic = grubbsPairStatistic(sorted.map((cell) => sign * cell.mean));
    return {
      test,
      statistic,
      laboratories: sorted
        .slice(-2)
        .toReversed()
        .map((cell) => cell.name),
      criticalValue5Percent: five,
      criticalValue1Percent: one,
      verdict: verdictOf(-statistic, -five, -one),
    };
  });
}

/**
 * All tests of ISO 5725-2 on the same laboratories: Cochran on the spreads, Grubbs for one and for
 * two laboratories on the means, both ends.
 *
 * @param cells 3 or more laboratories with two results or more
 * @returns the tests in the order in which the standard applies them
 * Source: ISO 5725-2:1994, 7.3.3 and 7.3.4
 */
export function testsOf(cells: readonly Cell[]): PrecisionTest[] {
  return [cochranTest(cells), ...singleTests(cells), ...pairTests(cells)];
}

/** The outlier that a test names first among several, the most extreme one. */
function outlierOf(tests: readonly PrecisionTest[]): PrecisionTest | undefined {
  return tests
    .filter((test) => test.verdict === 'outlier')
    .sort((a, b) => b.statistic - a.statistic)[0];
}

const leastLaboratories = 3;

/**
 * Outliers found in turn: Cochran until no spread is an outlier, then Grubbs for single means, then
 * for pairs where no single mean is one; each time without the laboratories found before.
 *
 * @param cells 3 or more laboratories with two results or more
 * @returns the tests that found an outlier, in order
 * Validity: stops while three laboratories are left.
 * Source: ISO 5725-2:1994, 7.3.2 to 7.3.4
 */
export function scrutinise(cells: readonly Cell[]): PrecisionTest[] {
  const found: PrecisionTest[] = [];
  const left = () => {
    const names = new Set(found.flatMap((test) => test.laboratories));
    return cells.filter((cell) => !names.has(cell.name));
  };
  for (const step of [
    (some: readonly Cell[]) => [cochranTest(some)],
    singleTests,
    (some: readonly Cell[]) =>
      found.some((test) => test.test.startsWith('grubbs')) ? [] : pairTests(some),
  ]) {
    for (;;) {
      const outlier = outlierOf(step(left()));
      if (!outlier || left().length - outlier.laboratories.length < leastLaboratories) break;
      found.push(outlier);
    }
  }
  return found;
}
