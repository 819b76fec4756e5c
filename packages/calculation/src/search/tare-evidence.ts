import { requireDomain } from '../quantity/domain.ts';
import { normalLogDensity } from '../quantity/normal.ts';
import type { BadWeighing, ContainerReading } from './container-evidence.ts';

/** How often a tare is taken twice or not at all, and how much the container weighs. */
export interface WrongTare {
  readonly probability: number;
  readonly tareGrams: number;
}

/**
 * Logarithms of the densities of a reading when the container holds so many pieces more or fewer: with the right
 * tare, well weighed or not, and with a tare that was left out or taken twice.
 */
function logParts(
  reading: ContainerReading,
  shiftGrams: number,
  faults: { readonly bad: BadWeighing; readonly tare: WrongTare },
): { readonly right: number; readonly wrong: number } {
  const { deviationGrams: y, predictedGrams: m, standardUncertaintyGrams: s } = reading;
  const { bad, tare } = faults;
  const log = (mean: number, deviation: number) => normalLogDensity(y, mean, deviation);
  const sum = (one: number, other: number): number => {
    const top = Math.max(one, other);
    return top + Math.log(Math.exp(one - top) + Math.exp(other - top));
  };
  const good = Math.log1p(-bad.probability) + log(m + shiftGrams, s);
  const worthless = Math.log(bad.probability) + log(m, Math.hypot(bad.spreadGrams, s));
  const half = Math.log(tare.probability / 2);
  return {
    right: Math.log1p(-tare.probability) + sum(good, worthless),
    wrong:
      half + sum(log(m + shiftGrams + tare.tareGrams, s), log(m + shiftGrams - tare.tareGrams, s)),
  };
}

/**
 * Probability that the tare of a container was left out or taken twice, given its reading and how many pieces
 * it holds.
 *
 * Formula: (τ/2)·[N(y; c + T, s²) + N(y; c − T, s²)] over the same plus (1 − τ)·[(1 − ε)·N(y; c, s²) + ε·N(y; m, b² +
 * s²)], c = m + xμ, T the tare, τ its chance.
 *
 * @param reading deviation, prediction and standard uncertainty (above 0), in grams
 * @param change pieces more or fewer than recorded, and the mean piece mass in grams
 * @param faults chance and spread of a worthless weighing, chance in (0, 1) and mass above 0 of the tare
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for a chance or a mass outside its range
 * Validity: normal errors; a tare of another container is a worthless weighing.
 * Source: Bayes’ theorem on the parts of the mixture
 * @example wrongTareProbability({ deviationGrams: 20, predictedGrams: 0, standardUncertaintyGrams: 0.3 },
 *   { pieces: 0, pieceMassGrams: 8.01 }, { bad: { probability: 0.001, spreadGrams: 20 },
 *   tare: { probability: 0.0002, tareGrams: 20 } }) // 0.91662271
 */
export function wrongTareProbability(
  reading: ContainerReading,
  change: { readonly pieces: number; readonly pieceMassGrams: number },
  faults: { readonly bad: BadWeighing; readonly tare: WrongTare },
): number {
  requireDomain(faults.tare.probability > 0 && faults.tare.probability < 1, {
    field: 'tare.probability',
    value: faults.tare.probability,
    accepted: 'a probability above 0 and below 1',
  });
  requireDomain(faults.tare.tareGrams > 0, {
    field: 'tare.tareGrams',
    value: faults.tare.tareGrams,
    accepted: 'a tare above 0 g',
  });
  const { right, wrong } = logParts(reading, change.pieces * change.pieceMassGrams, faults);
  return 1 / (1 + Math.exp(right - wrong));
}

/**
 * How much better a number of pieces explains a reading than the recorded one, when a tare can be wrong as well
 * as a weighing worthless.
 *
 * Formula: the density of `wrongTareProbability` at x pieces over that at 0.
 *
 * @param reading as for `wrongTareProbability`
 * @param change pieces more or fewer, and the mean piece mass in grams
 * @param faults as for `wrongTareProbability`
 * @returns ratio above 0, not rounded
 * @throws DomainError as `wrongTareProbability`
 * Source: as for `weighingRatio`
 * @example weighingRatioWithTare({ deviationGrams: 20, predictedGrams: 0, standardUncertaintyGrams: 0.3 },
 *   { pieces: 2, pieceMassGrams: 10 }, { bad: { probability: 0.001, spreadGrams: 20 },
 *   tare: { probability: 0.0002, tareGrams: 20 } }) // 9155.312868
 */
export function weighingRatioWithTare(
  reading: ContainerReading,
  change: { readonly pieces: number; readonly pieceMassGrams: number },
  faults: { readonly bad: BadWeighing; readonly tare: WrongTare },
): number {
  const log = (shift: number): number => {
    const { right, wrong } = logParts(reading, shift, faults);
    const top = Math.max(right, wrong);
    return top + Math.log(Math.exp(right - top) + Math.exp(wrong - top));
  };
  return Math.exp(log(change.pieces * change.pieceMassGrams) - log(0));
}
