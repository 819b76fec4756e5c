import { requireDomain } from '../quantity/domain.ts';
import { normalLogDensity } from '../quantity/normal.ts';

/** A weighed container: how far its net mass lies from the recorded count, and from where it should lie. */
export interface ContainerReading {
  /** Net mass less recorded count times the mean piece mass. */
  readonly deviationGrams: number;
  /** What the other containers of the lot foretell of that deviation; 0 where nothing does. */
  readonly predictedGrams: number;
  readonly standardUncertaintyGrams: number;
}

/** How often a weighing is worthless, and how far such a one lies off. */
export interface BadWeighing {
  readonly probability: number;
  readonly spreadGrams: number;
}

function logMixture(
  reading: ContainerReading,
  shiftGrams: number,
  bad: BadWeighing,
): { readonly good: number; readonly rubbish: number; readonly both: number } {
  const { deviationGrams, predictedGrams, standardUncertaintyGrams } = reading;
  const wide = Math.hypot(bad.spreadGrams, standardUncertaintyGrams);
  const good =
    Math.log1p(-bad.probability) +
    normalLogDensity(deviationGrams, predictedGrams + shiftGrams, standardUncertaintyGrams);
  const rubbish =
    Math.log(bad.probability) + normalLogDensity(deviationGrams, predictedGrams, wide);
  const most = Math.max(good, rubbish);
  return { good, rubbish, both: most + Math.log(Math.exp(good - most) + Math.exp(rubbish - most)) };
}

function requireBadWeighing(bad: BadWeighing): void {
  requireDomain(bad.probability > 0 && bad.probability < 1, {
    field: 'bad.probability',
    value: bad.probability,
    accepted: 'a probability above 0 and below 1: any weighing can be worthless',
  });
  requireDomain(bad.spreadGrams > 0, {
    field: 'bad.spreadGrams',
    value: bad.spreadGrams,
    accepted: 'a spread above 0 g',
  });
}

/**
 * How much better a weighing is explained by so many pieces more or less in the container than by
 * the recorded count.
 *
 * Formula: ratio of (1 − ε)·N(y; m + xμ, s²) + ε·N(y; m, b² + s²) at x and at 0, y deviation, m
 * prediction, μ piece mass, ε and b chance and spread of a worthless weighing.
 *
 * @param reading deviation, prediction and standard uncertainty (above 0), in grams
 * @param change pieces more (positive) or less, and the mean piece mass in grams
 * @param bad chance of a worthless weighing, in (0, 1), and its spread in grams, above 0
 * @returns ratio above 0, not rounded; never beyond about 1/ε times the ratio of the spreads
 * @throws DomainError for a chance or a spread outside its range
 * Validity: normal errors; without the second term one bad reading would outweigh everything.
 * Source: contaminated normal distribution, J. Tukey (1960); Box and Tiao (1968), Biometrika 55, 119-129
 * @example weighingRatio({ deviationGrams: -30.4, predictedGrams: 0, standardUncertaintyGrams: 1.8 },
 *   { pieces: -1, pieceMassGrams: 31.1 }, { probability: 0.001, spreadGrams: 20 }) // 32502.28326
 */
export function weighingRatio(
  reading: ContainerReading,
  change: { readonly pieces: number; readonly pieceMassGrams: number },
  bad: BadWeighing,
): number {
  requireBadWeighing(bad);
  const shifted = logMixture(reading, change.pieces * change.pieceMassGrams, bad).both;
  return Math.exp(shifted - logMixture(reading, 0, bad).both);
}

/**
 * Probability that a weighing is worthless, given how many pieces the container really holds.
 *
 * @param reading as for `weighingRatio`
 * @param change pieces more or less than recorded, and the mean piece mass in grams
 * @param bad chance and spread of a worthless weighing
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for a chance or a spread outside its range
 * Source: Bayes’ theorem on the two parts of the mixture
 * @example badWeighingProbability({ deviationGrams: 15.6, predictedGrams: 0,
 *   standardUncertaintyGrams: 0.5 }, { pieces: 0, pieceMassGrams: 31.1 },
 *   { probability: 0.001, spreadGrams: 20 }) // 1.0000
 */
export function badWeighingProbability(
  reading: ContainerReading,
  change: { readonly pieces: number; readonly pieceMassGrams: number },
  bad: BadWeighing,
): number {
  requireBadWeighing(bad);
  const { rubbish, both } = logMixture(reading, change.pieces * change.pieceMassGrams, bad);
  return Math.exp(rubbish - both);
}

/**
 * How much better the balance of grams is explained by one piece gone than by all being there.
 *
 * Formula: exp((B·w − w²/2)/σ²), B grams missing, w mass of the piece, σ standard uncertainty of B.
 *
 * @param balance grams missing, positive is missing, and its standard uncertainty above 0
 * @param goneGrams mass that would be gone
 * @returns ratio above 0, not rounded
 * @throws DomainError for a standard uncertainty not above 0
 * Validity: normal errors; not to be used for containers whose own weighings are evidence already.
 * Source: likelihood ratio of two normal means, elementary
 * @example gramRatio({ missingGrams: 20, standardUncertaintyGrams: 9.1147 }, 31.1) // 5.290162889
 */
export function gramRatio(
  balance: { readonly missingGrams: number; readonly standardUncertaintyGrams: number },
  goneGrams: number,
): number {
  const { missingGrams, standardUncertaintyGrams: deviation } = balance;
  requireDomain(deviation > 0, {
    field: 'standardUncertaintyGrams',
    value: deviation,
    accepted: 'a standard uncertainty above 0 g',
  });
  return Math.exp((missingGrams * goneGrams - goneGrams ** 2 / 2) / deviation ** 2);
}
