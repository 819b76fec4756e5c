import { requireDomain } from '../quantity/domain.ts';
import { normalLogDensity } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  repeatedReadingLogDensity,
  repeatedRoundedLogProbability,
  roundedReadingLikelihood,
} from './reading-likelihood.ts';

/** One count with its probability. */
export interface CountProbability {
  readonly pieces: number;
  readonly probability: number;
}

/** The evidence and what is known before it. */
export interface CountEvidence {
  /** Net readings of one container, each a weighing from zero; 1 to 8. */
  readonly netReadingsGrams: readonly number[];
  /** Probabilities before the weighing; sum to 1. */
  readonly prior: readonly CountProbability[];
  readonly nominalPieces: number;
  readonly pieceMassGrams: number;
  /** Of one net reading for the nominal count; without the rounding term in rounded form. */
  readonly standardUncertaintyGrams: number;
  /** The part of it that is fresh in every weighing; matters only with several readings. */
  readonly noiseStandardUncertaintyGrams?: number;
  /** Probability that a weighing is itself wrong: not zeroed, lid off, finger on the pan. */
  readonly badWeighingProbability: number;
  /** Spread of wrong weighings about the nominal mass. */
  readonly badWeighingSpreadGrams: number;
  /** Given: use the exact probability of rounded readings. Absent: normal density. */
  readonly roundedToDivisionGrams?: number;
}

export interface CountPosterior {
  /** In the order of the prior. */
  readonly posterior: readonly CountProbability[];
  /** Probability of each count together with at least one good weighing, in the same order. */
  readonly weighedPosterior: readonly CountProbability[];
  /** Probability that none of the weighings was good, so that they say nothing about the count. */
  readonly probabilityBadWeighing: number;
  /** Probability for each weighing that it was bad. */
  readonly badWeighingByReading: readonly number[];
}

/**
 * Probabilities of the counts before the weighing.
 *
 * Formula: p for one piece more and one less each; p to the power k for k pieces more or less where
 * the range reaches so far; the rest for the nominal count.
 *
 * @param nominalPieces booked count, 1 or more
 * @param miscountProbability p, above 0, at most 0.25
 * @param range counts below and above the nominal one to include, 1 or more each
 * @returns probabilities in ascending order of the count, which is never below 0; they sum to 1
 * @throws DomainError for p outside its range
 * Source: common practice; p is learned from opened tubes
 * @example countPrior(20, 2e-4, { below: 1, above: 1 })[1].probability // 0.9996
 */
export function countPrior(
  nominalPieces: number,
  miscountProbability: number,
  range: { readonly below: number; readonly above: number },
): CountProbability[] {
  requireDomain(miscountProbability > 0 && miscountProbability <= 0.25, {
    field: 'priorMiscountProbability',
    value: miscountProbability,
    accepted: 'a probability above 0, at most 0.25',
  });
  const result: { pieces: number; probability: number }[] = [];
  const first = Math.max(0, nominalPieces - range.below);
  for (let pieces = first; pieces <= nominalPieces + range.above; pieces += 1) {
    const distance = Math.abs(pieces - nominalPieces);
    result.push({ pieces, probability: distance === 0 ? 0 : miscountProbability ** distance });
  }
  const others = compensatedSum(result.map((entry) => entry.probability));
  return result.map((entry) =>
    entry.pieces === nominalPieces ? { ...entry, probability: 1 - others } : entry,
  );
}

/**
 * Probabilities of the counts after one or more weighings, each of which may have gone wrong.
 *
 * Formula: for one reading W the likelihood of n pieces is
 * (1 − ε)·N(W; n·μ, s²) + ε·N(W; n₀·μ, broad² + s²), with n₀ the nominal count. For several readings
 * every division into good and bad ones is weighed: bad ones are independent, good ones share the
 * errors of pieces, lot, reference mean, gain and tare and differ by noise only. The second term
 * caps what one weighing can prove.
 *
 * @param evidence readings in grams, 1 to 8; prior summing to 1; ε in (0, 1); spread above 0
 * @returns posterior of the counts, and of a bad weighing, each in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: s that of the nominal count. Computed in logarithms, so that a reading far from every
 * count still has an answer: a bad weighing. Shown in reference/counting; the agreement of stated
 * and found frequencies is simulated in laws/count-posterior.
 * Source: Bayes' rule with a mixture for wrong weighings, common practice in robust statistics
 * (G. E. P. Box and G. C. Tiao (1968), Biometrika 55, 119-129)
 * @example countPosterior({ netReadingsGrams: [590.8], prior: countPrior(20, 2e-4, { below: 1, above: 1 }),
 *   nominalPieces: 20, pieceMassGrams: 31.1, standardUncertaintyGrams: 0.51, badWeighingProbability: 1e-3,
 *   badWeighingSpreadGrams: 20 }).posterior[0].probability // 0.963
 */
export function countPosterior(evidence: CountEvidence): CountPosterior {
  requireEvidence(evidence);
  const { netReadingsGrams: readings, prior, badWeighingProbability: bad } = evidence;
  const badLogLikelihoods = readings.map((reading) => badLogLikelihood(reading, evidence));
  const divisions = 2 ** readings.length;
  // Bit j of the division is set where weighing j is taken as good.
  const logWeights = prior.map((entry) =>
    Array.from({ length: divisions }, (_, division) => {
      const isGood = (index: number): boolean => Math.floor(division / 2 ** index) % 2 === 1;
      const good = readings.filter((_, index) => isGood(index));
      const badTerms = badLogLikelihoods.filter((_, index) => !isGood(index));
      return (
        Math.log(entry.probability) +
        good.length * Math.log1p(-bad) +
        badTerms.reduce((sum, term) => sum + Math.log(bad) + term, 0) +
        (good.length === 0 ? 0 : goodLogLikelihood(good, entry.pieces, evidence))
      );
    }),
  );
  const greatest = Math.max(...logWeights.flat());
  const weights = logWeights.map((row) => row.map((value) => Math.exp(value - greatest)));
  const total = compensatedSum(weights.flat());
  const share = (selected: readonly number[]): number => compensatedSum(selected) / total;
  return {
    posterior: prior.map(({ pieces }, row) => ({ pieces, probability: share(weights[row] ?? []) })),
    weighedPosterior: prior.map(({ pieces }, row) => ({
      pieces,
      probability: share((weights[row] ?? []).slice(1)),
    })),
    probabilityBadWeighing: share(weights.map((row) => row[0] ?? 0)),
    badWeighingByReading: readings.map((_, index) =>
      share(
        weights.flatMap((row) =>
          row.filter((_, division) => Math.floor(division / 2 ** index) % 2 === 0),
        ),
      ),
    ),
  };
}

function requireEvidence(evidence: CountEvidence): void {
  const { netReadingsGrams: readings, badWeighingProbability, badWeighingSpreadGrams } = evidence;
  requireDomain(readings.length >= 1 && readings.length <= 8, {
    field: 'netReadingsGrams',
    value: `${readings.length} readings`,
    accepted: '1 to 8 readings',
  });
  requireDomain(badWeighingProbability > 0 && badWeighingProbability < 1, {
    field: 'badWeighingProbability',
    value: badWeighingProbability,
    accepted: 'a probability above 0 and below 1',
  });
  requireDomain(badWeighingSpreadGrams > 0, {
    field: 'badWeighingSpreadGrams',
    value: badWeighingSpreadGrams,
    accepted: 'a spread above 0 g',
  });
  const sum = compensatedSum(evidence.prior.map((entry) => entry.probability));
  requireDomain(Math.abs(sum - 1) < 1e-9, {
    field: 'prior',
    value: sum,
    accepted: 'probabilities that sum to 1',
  });
}

function badLogLikelihood(reading: number, evidence: CountEvidence): number {
  const expectedGrams = evidence.nominalPieces * evidence.pieceMassGrams;
  const spread = Math.hypot(evidence.badWeighingSpreadGrams, evidence.standardUncertaintyGrams);
  const divisionGrams = evidence.roundedToDivisionGrams;
  if (divisionGrams === undefined) return normalLogDensity(reading, expectedGrams, spread);
  const interval = roundedReadingLikelihood(
    { readingGrams: reading, divisionGrams },
    { expectedGrams, standardUncertaintyGrams: spread },
  );
  // Beyond some forty spreads the interval underflows; its density then serves as well.
  return interval > 0
    ? Math.log(interval)
    : normalLogDensity(reading, expectedGrams, spread) + Math.log(divisionGrams);
}

function goodLogLikelihood(
  readings: readonly number[],
  pieces: number,
  evidence: CountEvidence,
): number {
  const noise = evidence.noiseStandardUncertaintyGrams ?? 0;
  const sharedSquare = evidence.standardUncertaintyGrams ** 2 - noise ** 2;
  requireDomain(sharedSquare > 0, {
    field: 'noiseStandardUncertaintyGrams',
    value: noise,
    accepted: `below the standard uncertainty of ${evidence.standardUncertaintyGrams} g`,
  });
  const weighing = {
    sharedStandardUncertaintyGrams: Math.sqrt(sharedSquare),
    noiseStandardUncertaintyGrams: noise,
  };
  const expectedGrams = pieces * evidence.pieceMassGrams;
  const divisionGrams = evidence.roundedToDivisionGrams;
  return divisionGrams === undefined
    ? repeatedReadingLogDensity(readings, expectedGrams, weighing)
    : repeatedRoundedLogProbability(readings, expectedGrams, { ...weighing, divisionGrams });
}
