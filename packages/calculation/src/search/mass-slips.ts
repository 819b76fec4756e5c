import { requireDomain } from '../quantity/domain.ts';
import { normalLogDensity } from '../quantity/normal.ts';
import type { BadWeighing } from './container-evidence.ts';

/** Factors between what was weighed and what was written: places of the decimal sign, and the troy ounce. */
export const massSlipFactors = [
  { factor: 10, words: 'the decimal sign one place too far to the left' },
  { factor: 0.1, words: 'the decimal sign one place too far to the right' },
  { factor: 1000, words: 'kilograms written as grams' },
  { factor: 0.001, words: 'grams written as kilograms' },
  { factor: 31.1034768, words: 'troy ounces written as grams' },
  { factor: 1 / 31.1034768, words: 'grams written as troy ounces' },
] as const;

/** A mass as it is written beside its number of pieces. */
export interface WrittenMass {
  readonly pieces: number;
  readonly grams: number;
  /** Of the mass of so many pieces, when it is weighed well. */
  readonly standardUncertaintyGrams: number;
}

/** What was slipped, and how much better it explains what is written. */
export interface MassSlip {
  /** True mass over written one. */
  readonly factor: number;
  readonly words: string;
  readonly ratio: number;
  /** True mass less written one. */
  readonly missingGrams: number;
}

/** Ratios beyond this say no more. */
const mostLogRatio = 50;

/**
 * How much better a slip of the decimal sign or of the unit explains a written mass than a good or a worthless
 * weighing does.
 *
 * Formula: for each factor f the density N(g; nμ/f, s/f) over (1 − ε)·N(g; nμ, s) + ε·N(g; nμ, √(b² + s²)), g grams
 * written, n pieces, μ piece mass, s standard uncertainty, ε and b chance and spread of a worthless weighing.
 *
 * @param mass pieces from 1, grams written from 0, standard uncertainty above 0
 * @param pieceMassGrams above 0
 * @param bad chance in (0, 1) and spread above 0 of a worthless weighing
 * @returns the slips that explain it better than none, the best first; ratios at most e^50
 * @throws DomainError for pieces below 1 or a mass below 0
 * Validity: normal errors; the number of pieces is taken as right.
 * Source: Bayes’ theorem; troy ounce of 31.1034768 g exactly, international yard and pound agreement (1959)
 * @example massSlips({ pieces: 46, grams: 36.85, standardUncertaintyGrams: 0.5 }, 8.01,
 *   { probability: 0.001, spreadGrams: 20 })[0].factor // 10
 */
export function massSlips(
  mass: WrittenMass,
  pieceMassGrams: number,
  bad: BadWeighing,
): readonly MassSlip[] {
  const { pieces, grams, standardUncertaintyGrams: s } = mass;
  requireDomain(Number.isSafeInteger(pieces) && pieces >= 1, {
    field: 'pieces',
    value: pieces,
    accepted: 'a whole number of pieces from 1',
  });
  requireDomain(grams >= 0, { field: 'grams', value: grams, accepted: 'a mass from 0 g' });
  const truth = pieces * pieceMassGrams;
  const good = Math.log1p(-bad.probability) + normalLogDensity(grams, truth, s);
  const worthless =
    Math.log(bad.probability) + normalLogDensity(grams, truth, Math.hypot(bad.spreadGrams, s));
  const top = Math.max(good, worthless);
  const none = top + Math.log(Math.exp(good - top) + Math.exp(worthless - top));
  return massSlipFactors
    .map(({ factor, words }) => ({
      factor,
      words,
      logRatio: normalLogDensity(grams, truth / factor, s / factor) - none,
    }))
    .filter(({ logRatio }) => logRatio > 0)
    .sort((a, b) => b.logRatio - a.logRatio)
    .map(({ factor, words, logRatio }) => ({
      factor,
      words,
      ratio: Math.exp(Math.min(mostLogRatio, logRatio)),
      missingGrams: grams * (factor - 1),
    }));
}
