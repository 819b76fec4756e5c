import { requireDomain } from '../quantity/domain.ts';

/**
 * What the lots behind a sample are like. Binomial: pieces from a steady production of which a
 * fraction is nonconforming. Poisson: nonconformities are counted, and a piece may carry several.
 * Hypergeometric: one lot of known size with a known number of nonconforming pieces in it.
 */
export type LotQuality =
  | { readonly basis: 'binomial'; readonly fractionNonconforming: number }
  | { readonly basis: 'poisson'; readonly nonconformitiesPerPiece: number }
  | {
      readonly basis: 'hypergeometric';
      readonly lotSizePieces: number;
      readonly nonconformingPieces: number;
    };

/** Probabilities of the counts 0, 1, 2 … in a sample, and of all counts above the last of them. */
export interface CountProbabilities {
  readonly probabilities: readonly number[];
  readonly above: number;
}

/** The count's range, its most probable value, and P(x + 1)/P(x). */
interface CountShape {
  readonly least: number;
  readonly most: number;
  readonly mode: number;
  readonly ratio: (count: number) => number;
}

const within = (value: number, least: number, most: number): number =>
  Math.min(most, Math.max(least, value));

function binomialShape(sample: number, fraction: number): CountShape {
  requireDomain(fraction >= 0 && fraction <= 1, {
    field: 'fractionNonconforming',
    value: fraction,
    accepted: 'a fraction from 0 to 1',
  });
  const mode = fraction === 1 ? sample : within(Math.floor((sample + 1) * fraction), 0, sample);
  const odds = fraction / (1 - fraction);
  return {
    least: fraction === 1 ? sample : 0,
    most: fraction === 0 ? 0 : sample,
    mode,
    ratio: (count) => ((sample - count) / (count + 1)) * odds,
  };
}

function poissonShape(sample: number, rate: number): CountShape {
  requireDomain(rate >= 0 && Number.isFinite(rate), {
    field: 'nonconformitiesPerPiece',
    value: rate,
    accepted: 'a finite number of 0 or more',
  });
  const mean = sample * rate;
  return {
    least: 0,
    most: mean === 0 ? 0 : Number.POSITIVE_INFINITY,
    mode: Math.floor(mean),
    ratio: (count) => mean / (count + 1),
  };
}

function hypergeometricShape(sample: number, lot: number, bad: number): CountShape {
  requireDomain(Number.isSafeInteger(bad) && bad >= 0 && bad <= lot, {
    field: 'nonconformingPieces',
    value: bad,
    accepted: `a whole number from 0 to the ${lot} pieces of the lot`,
  });
  requireDomain(sample <= lot, {
    field: 'sampleSizePieces',
    value: sample,
    accepted: `at most the ${lot} pieces of the lot`,
  });
  const least = Math.max(0, sample + bad - lot);
  const most = Math.min(sample, bad);
  const good = lot - bad - sample;
  return {
    least,
    most,
    mode: within(Math.floor(((sample + 1) * (bad + 1)) / (lot + 2)), least, most),
    ratio: (count) => ((bad - count) * (sample - count)) / ((count + 1) * (good + count + 1)),
  };
}

function shapeOf(sample: number, quality: LotQuality): CountShape {
  if (quality.basis === 'binomial') return binomialShape(sample, quality.fractionNonconforming);
  if (quality.basis === 'poisson') return poissonShape(sample, quality.nonconformitiesPerPiece);
  return hypergeometricShape(sample, quality.lotSizePieces, quality.nonconformingPieces);
}

/** A term so much smaller than the largest one adds nothing to the sum of all. */
const negligible = 1e-22;

/** Below this a double loses its figures and no longer shrinks: such terms count as zero. */
const smallestTerm = 1e-300;

/**
 * Probabilities of the number of nonconforming pieces (or nonconformities) in a sample, the common
 * base of acceptance, sample number and outgoing quality.
 *
 * Formula: the terms are built from the most probable count outward by the quotient of neighbours,
 * (n − x)p/((x + 1)(1 − p)), m/(x + 1) or (D − x)(n − x)/((x + 1)(N − D − n + x + 1)), and divided by
 * the sum of all of them, so that neither factorials nor logarithms are formed.
 *
 * @param sampleSizePieces whole number of 0 or more; at most the lot for a hypergeometric count
 * @param quality fraction in [0, 1], or nonconformities per piece of 0 or more, or lot and
 * nonconforming pieces in it
 * @param greatestCount last count wanted, a whole number; −1 for none
 * @returns probabilities of 0 to that count, and the probability of more
 * @throws DomainError for an argument outside its range
 * Validity: relative accuracy about 1e-12, in the tails too, down to 1e-290; held against exact whole
 * numbers in laws/sampling-counts.
 * Source: the binomial, Poisson and hypergeometric distributions
 * @example countProbabilities(10, { basis: 'binomial', fractionNonconforming: 0.5 }, 0).above
 *   // 0.9990234375
 */
export function countProbabilities(
  sampleSizePieces: number,
  quality: LotQuality,
  greatestCount: number,
): CountProbabilities {
  requireDomain(Number.isSafeInteger(sampleSizePieces) && sampleSizePieces >= 0, {
    field: 'sampleSizePieces',
    value: sampleSizePieces,
    accepted: 'a whole number of 0 or more',
  });
  const { least, most, mode, ratio } = shapeOf(sampleSizePieces, quality);
  const probabilities = new Array<number>(greatestCount + 1).fill(0);
  let upTo = 0;
  let above = 0;
  for (let count = mode, term = 1; term > smallestTerm; count -= 1) {
    if (count <= greatestCount) {
      probabilities[count] = term;
      upTo += term;
    } else above += term;
    if (count <= least) break;
    term /= ratio(count - 1);
  }
  for (let count = mode, term = 1; count < most; ) {
    term *= ratio(count);
    count += 1;
    if (count <= greatestCount) {
      probabilities[count] = term;
      upTo += term;
    } else {
      above += term;
      if (term < negligible * above) break;
    }
    if (term < smallestTerm) break;
  }
  const all = upTo + above;
  for (let count = 0; count <= greatestCount; count += 1) {
    probabilities[count] = (probabilities[count] as number) / all;
  }
  return { probabilities, above: above / all };
}

/** Sums from the first probability on: P(count ≤ x) for each x. */
export function cumulated(probabilities: readonly number[]): number[] {
  let sum = 0;
  return probabilities.map((probability) => {
    sum += probability;
    return sum;
  });
}
