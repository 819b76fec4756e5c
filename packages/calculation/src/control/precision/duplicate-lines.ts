import { medianOf } from '../../quantity/median.ts';
import { normalQuantile } from '../../quantity/normal.ts';
import { compensatedSum, meanOf } from '../../quantity/sum.ts';
import type { DuplicatePrecisionOutput } from './duplicate-precision-schema.ts';

/** A pair by its level, which is 0 or above, and its difference without sign. */
export interface LevelledPair {
  readonly level: number;
  readonly size: number;
}

type Group = DuplicatePrecisionOutput['groups'][number];
type Line = NonNullable<DuplicatePrecisionOutput['fitted']>;

/** Median of the difference of two normal results without sign, in standard deviations of one: 0.954. */
export const medianDifferenceFactor = Math.SQRT2 * normalQuantile(0.75);
/** Precision is meant as two standard deviations. */
const precisionFactor = 2;
const leastGroups = 3;

/** A line with the level at which two standard deviations equal the level. */
function lineOf(atZero: number, perLevel: number): Line {
  const room = 1 - precisionFactor * perLevel;
  return {
    atZero,
    perLevel,
    detectionLevel: room > 0 && atZero >= 0 ? (precisionFactor * atZero) / room : null,
  };
}

/**
 * Groups of pairs of similar level with their median difference.
 *
 * Formula: pairs in ascending order of level, cut into groups of the size given, a rest of less
 * than half a group joined to the one before; standard deviation = median/0.954.
 *
 * @param pairs 1 or more
 * @param size pairs in a group
 * @returns groups in ascending order of level
 * Validity: a single gross pair hardly moves the median of its group.
 * Source: M. Thompson and R. J. Howarth (1976), Analyst 101, 690-698
 * @example groupsByLevel([{ level: 1, size: 1 }, { level: 2, size: 3 }, { level: 3, size: 2 }], 3)[0].medianDifference // 2
 */
export function groupsByLevel(pairs: readonly LevelledPair[], size: number): Group[] {
  const sorted = pairs.toSorted((a, b) => a.level - b.level);
  const rest = sorted.length % size;
  const count = Math.max(1, Math.floor(sorted.length / size) + (rest * 2 >= size ? 1 : 0));
  return Array.from({ length: count }, (_, index) => {
    const members = sorted.slice(
      index * size,
      index === count - 1 ? undefined : (index + 1) * size,
    );
    const medianDifference = medianOf(members.map((pair) => pair.size));
    return {
      pairCount: members.length,
      level: compensatedSum(members.map((pair) => pair.level)) / members.length,
      medianDifference,
      standardDeviation: medianDifference / medianDifferenceFactor,
    };
  });
}

/** Least-squares line of standard deviation on level through the groups; none for fewer than three. */
export function lineThroughGroups(groups: readonly Group[]): Line | null {
  if (groups.length < leastGroups) return null;
  const level = meanOf(groups.map((group) => group.level));
  const deviation = meanOf(groups.map((group) => group.standardDeviation));
  const spread = compensatedSum(groups.map((group) => (group.level - level) ** 2));
  if (!(spread > 0)) return null;
  const product = compensatedSum(
    groups.map((group) => (group.level - level) * (group.standardDeviation - deviation)),
  );
  const slope = product / spread;
  return lineOf(deviation - slope * level, slope);
}

const gridPoints = 100;

/**
 * Standard deviation as a line in level, fitted to all pairs by greatest likelihood.
 *
 * Formula: differences normal with deviation √2·(s₀ + k·c); with the shape s₀ + k·c = τ·(1 − ρ + ρ·c/c̄) the best τ² is
 * the mean of d²/(2w²) for each ρ from 0 to 1, so that one variable is searched, by a grid and then
 * by the golden section. Neither s₀ nor k becomes negative.
 *
 * @param pairs 3 or more
 * @returns line, or null where no pair differs or all levels are 0
 * Validity: normal scatter; one gross pair moves the line, see the groups. Found to about 1e-7.
 * Source: M. Thompson and R. J. Howarth (1976), Analyst 101, 690-698, for the model; fit by definition
 * of likelihood
 * @example likeliestLine([{ level: 10, size: 1 }, { level: 20, size: 2 }, { level: 40, size: 4 }]).perLevel // 0.0707107
 */
export function likeliestLine(pairs: readonly LevelledPair[]): Line | null {
  const centre = compensatedSum(pairs.map((pair) => pair.level)) / pairs.length;
  if (!(centre > 0) || pairs.every((pair) => pair.size === 0)) return null;
  const shape = (share: number, level: number) => 1 - share + (share * level) / centre;
  const scale = (share: number) =>
    compensatedSum(pairs.map((pair) => (pair.size / shape(share, pair.level)) ** 2 / 2)) /
    pairs.length;
  const loss = (share: number) =>
    (pairs.length * Math.log(scale(share))) / 2 +
    compensatedSum(pairs.map((pair) => Math.log(shape(share, pair.level))));
  // At a share of 1 a pair at level 0 would have no scatter at all.
  const most = pairs.some((pair) => pair.level === 0) ? 1 - 1e-9 : 1;
  const best = leastOnGrid(loss, most);
  const tau = Math.sqrt(scale(best));
  return lineOf(tau * (1 - best), (tau * best) / centre);
}

/** Where a function is least between 0 and an end: best point of a grid, then golden section. */
function leastOnGrid(loss: (share: number) => number, most: number): number {
  const grid = Array.from({ length: gridPoints + 1 }, (_, index) => (most * index) / gridPoints);
  const losses = grid.map(loss);
  const start = losses.indexOf(Math.min(...losses));
  let [lower, upper] = [grid[Math.max(0, start - 1)] ?? 0, grid[start + 1] ?? most];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let step = 0; step < 60; step += 1) {
    const left = upper - golden * (upper - lower);
    const right = lower + golden * (upper - lower);
    if (loss(left) <= loss(right)) upper = right;
    else lower = left;
  }
  const inside = (lower + upper) / 2;
  return [inside, 0, most].reduce((least, end) => (loss(end) < loss(least) ? end : least));
}
