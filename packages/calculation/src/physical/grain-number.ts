import { requireDomain } from '../quantity/domain.ts';

/** Mean lineal intercept in millimetres at grain size number 0: 32.00 mm at 100 times. */
const interceptAtZero = 0.32;

/** Grains per square millimetre at number 0: half a grain per square inch at 100 times. */
const grainsAtZero = (0.5 * 100 ** 2) / 25.4 ** 2;

/**
 * Grain size number from the mean lineal intercept.
 *
 * Formula: G = 2·log2(0.32/l), that is −6.643856·log10(l) − 3.28771 with l in mm.
 *
 * @param interceptMillimetres above 0 mm, on the metal itself
 * @returns grain size number G, not rounded
 * @throws DomainError for an intercept that is not above 0
 * Validity: equiaxed grains of one phase. See reference/grain-size.
 * Source: ASTM E112, relation of G and mean lineal intercept (from memory)
 * @example grainSizeOfIntercept(0.02) // 8
 */
export function grainSizeOfIntercept(interceptMillimetres: number): number {
  requireDomain(interceptMillimetres > 0 && Number.isFinite(interceptMillimetres), {
    field: 'interceptMillimetres',
    value: interceptMillimetres,
    accepted: 'an intercept above 0 mm',
  });
  return 2 * Math.log2(interceptAtZero / interceptMillimetres);
}

/**
 * Grain size number from the number of grains in an area.
 *
 * Formula: G = log2(NA/7.75), that is 3.321928·log10(NA) − 2.954, from N = 2^(G − 1) grains per
 * square inch at 100 times.
 *
 * @param grainsPerSquareMillimetre above 0 per mm², on the metal itself
 * @returns grain size number G, not rounded
 * @throws DomainError for a number that is not above 0
 * Validity: as `grainSizeOfIntercept`; the two scales agree to 0.01.
 * Source: ASTM E112, definition of G (from memory) and relation with NA
 * @example grainSizeOfCount(496) // 6.000
 */
export function grainSizeOfCount(grainsPerSquareMillimetre: number): number {
  requireDomain(grainsPerSquareMillimetre > 0 && Number.isFinite(grainsPerSquareMillimetre), {
    field: 'grainsPerSquareMillimetre',
    value: grainsPerSquareMillimetre,
    accepted: 'a number of grains above 0 per mm²',
  });
  return Math.log2(grainsPerSquareMillimetre / grainsAtZero);
}

/**
 * Grains per square millimetre of a grain size number: the inverse of `grainSizeOfCount`.
 *
 * @param grainSize any grain size number G
 * @returns number per mm², not rounded
 * Validity: as `grainSizeOfCount`.
 * Source: ASTM E112, definition of G
 * @example grainsOfSize(12) // 31744
 */
export function grainsOfSize(grainSize: number): number {
  return grainsAtZero * 2 ** grainSize;
}

/** The mean and its spread over fields; null where there is only one. */
interface FieldStatistics {
  readonly mean: number;
  readonly standardDeviation: number | null;
}

/**
 * Mean and standard deviation of the counts of the fields of one section.
 *
 * Formula: mean = Σx/n, s² = Σ(x − mean)²/(n − 1), both on distances from the first value.
 *
 * @param values at least one
 * @returns mean and standard deviation (divisor n − 1), null for one value
 * Validity: the distances keep the digits of counts that are all large.
 * Source: definition; D. E. Knuth, Seminumerical Algorithms, 4.2.2 (on the loss that is avoided)
 * @example fieldStatistics([8, 8, 8, 9, 9, 9, 7]).standardDeviation // 0.7559289
 */
export function fieldStatistics(values: ArrayLike<number>): FieldStatistics {
  const count = values.length;
  const first = values[0] ?? 0;
  let sum = 0;
  for (let at = 1; at < count; at += 1) sum += (values[at] ?? 0) - first;
  const shift = sum / count;
  let squares = 0;
  for (let at = 0; at < count; at += 1) squares += ((values[at] ?? 0) - first - shift) ** 2;
  return {
    mean: first + shift,
    standardDeviation: count < 2 ? null : Math.sqrt(squares / (count - 1)),
  };
}
