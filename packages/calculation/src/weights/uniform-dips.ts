import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { requireDomain } from '../quantity/domain.ts';
import { dipOfAscending, dipRoom } from './dip.ts';

/**
 * Dips of seeded samples from the uniform distribution, which of all distributions with one mode is taken
 * as the one that dips most.
 *
 * Formula: uniform values in order are the partial sums of exponential gaps over their total, so that no
 * sorting is needed.
 *
 * @param count values in each sample, 1 or more
 * @param samples number of samples, 1 or more
 * @param seed whole number
 * @returns dips in ascending order
 * @throws DomainError for a count or number of samples below 1
 * Validity: the same seed gives the same dips. Shown in reference/dip against published quantiles.
 * Source: J. A. Hartigan and P. M. Hartigan (1985), Annals of Statistics 13, 70-84; order statistics by
 * exponential gaps, L. Devroye (1986), Non-Uniform Random Variate Generation, V.3
 * @example uniformDips(3, 2, 1)[0] // 0.16666666666666666
 */
export function uniformDips(count: number, samples: number, seed: number): Float64Array {
  for (const [field, value] of [
    ['count', count],
    ['samples', samples],
  ] as const) {
    requireDomain(Number.isSafeInteger(value) && value >= 1, {
      field,
      value,
      accepted: 'a whole number of 1 or more',
    });
  }
  const generator = xoroshiro128plus(seed);
  const room = dipRoom(count);
  const values = new Float64Array(count);
  const dips = new Float64Array(samples);
  for (let sample = 0; sample < samples; sample += 1) {
    let sum = 0;
    for (let index = 0; index < count; index += 1) {
      // One less a uniform value lies above 0, which has a logarithm.
      sum -= Math.log(1 - uniformFloat64(generator));
      values[index] = sum;
    }
    // The dip does not change with the unit, so that the total need not be divided out.
    dips[sample] = dipOfAscending(values, room).dip;
  }
  return dips.sort();
}
