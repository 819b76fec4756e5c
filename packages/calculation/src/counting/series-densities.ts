import erfc from '@stdlib/math-base-special-erfc';
import type { Grid, Stretch } from './series-mean-grid.ts';
import type { CountHypothesis, ReadingTerm, TubeEvidence } from './series-model.ts';

const sqrtHalf = Math.SQRT1_2;

/** Greatest logarithm of a term over a stretch. */
function peakLog(term: ReadingTerm, pieces: number, grid: Grid, stretch: Stretch): number {
  const low = pieces * (grid.origin + stretch.first * grid.step);
  const high = low + pieces * (stretch.values.length - 1) * grid.step;
  const distance = Math.max(0, low - term.netGrams, term.netGrams - high);
  return term.logWeight - 0.5 * (distance ** 2 / term.variance + Math.log(term.variance));
}

const halfLogTwoPi = 0.5 * Math.log(2 * Math.PI);
/** Terms this far below the greatest do not matter. */
const negligible = 80;

/** Adds the density of the net mass at each mean piece mass of a stretch, over e to the power of scale. */
function addTerm(
  term: ReadingTerm,
  hypothesis: CountHypothesis,
  into: { readonly values: Float64Array; readonly start: number; readonly step: number },
  at: { readonly scale: number; readonly rounded: number | null },
): void {
  const { values } = into;
  const { pieces } = hypothesis;
  const base = term.logWeight + hypothesis.logPrior - at.scale;
  const origin = term.netGrams - pieces * into.start;
  const perStep = pieces * into.step;
  if (at.rounded !== null) {
    const factor = sqrtHalf / Math.sqrt(term.variance);
    const weight = 0.5 * Math.exp(base);
    const width = at.rounded * factor;
    for (let k = 0; k < values.length; k += 1) {
      const inner = Math.abs(origin - perStep * k) * factor - width / 2;
      if (inner > 27) continue;
      values[k] = (values[k] as number) + weight * (erfc(inner) - erfc(inner + width));
    }
    return;
  }
  const log = base - halfLogTwoPi - 0.5 * Math.log(term.variance);
  const factor = 0.5 / term.variance;
  for (let k = 0; k < values.length; k += 1) {
    const distance = origin - perStep * k;
    values[k] = (values[k] as number) + Math.exp(log - factor * distance * distance);
  }
}

/** Densities of one tube over a stretch, for each count by a good weighing; scaled by a common factor. */
export interface TubeDensities {
  readonly first: number;
  readonly scale: number;
  readonly good: readonly Float64Array[];
  /** Over all counts, bad weighings included. */
  readonly all: Float64Array;
  /** Weight of bad weighings only, before the prior of the counts. */
  readonly bad: number;
}

const emptyDensity = new Float64Array(0);

/** Densities of the net mass of one tube over a stretch of the grid. */
export function densitiesOf(tube: TubeEvidence, grid: Grid, stretch: Stretch): TubeDensities {
  const logs = tube.hypotheses.map((hypothesis) =>
    hypothesis.terms.reduce(
      (greatest, term) =>
        Math.max(greatest, peakLog(term, hypothesis.pieces, grid, stretch) + hypothesis.logPrior),
      Number.NEGATIVE_INFINITY,
    ),
  );
  const scale = Math.max(tube.badLogWeight, ...logs);
  const bad = Math.exp(tube.badLogWeight - scale);
  const size = stretch.values.length;
  const all = new Float64Array(size).fill(bad);
  const start = grid.origin + stretch.first * grid.step;
  const good = tube.hypotheses.map((hypothesis, index) => {
    if ((logs[index] as number) < scale - negligible) return emptyDensity;
    const values = new Float64Array(size);
    for (const term of hypothesis.terms) {
      addTerm(
        term,
        hypothesis,
        { values, start, step: grid.step },
        { scale, rounded: tube.roundedToGrams },
      );
    }
    for (let k = 0; k < size; k += 1) all[k] = (all[k] as number) + (values[k] as number);
    return values;
  });
  return { first: stretch.first, scale, good, all, bad };
}

/** The density with the count as booked: bad weighings with the prior of that count, and good ones. */
export function bookedDensity(tube: TubeEvidence, densities: TubeDensities): Float64Array {
  const index = tube.hypotheses.findIndex(({ pieces }) => pieces === tube.bookedPieces);
  const bad = densities.bad * Math.exp(tube.hypotheses[index]?.logPrior ?? -Infinity);
  const good = densities.good[index] ?? emptyDensity;
  const values = new Float64Array(densities.all.length).fill(bad);
  for (let k = 0; k < good.length; k += 1) values[k] = (values[k] as number) + (good[k] as number);
  return values;
}
