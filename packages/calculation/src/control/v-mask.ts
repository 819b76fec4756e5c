import { requireDomain } from '../quantity/domain.ts';

/** A mask laid on the plot of cumulative sums, its vertex ahead of the last value. */
export interface VMask {
  /** Distance from the last value to the vertex, in steps between values. */
  readonly leadDistanceValues: number;
  /** Rise of an arm for each step, in the unit of the cumulative sum. */
  readonly slopePerValue: number;
}

/**
 * The mask that signals exactly where the tabular sums do.
 *
 * Formula: slope F = k·σ, lead d = h/k; half of the width at the last value is d·F = h·σ.
 *
 * @param options reference value k above 0 and decision interval h above 0, in standard deviations
 *   of a plotted value; that standard deviation
 * @returns lead in values, slope in the unit of the values
 * @throws DomainError for a reference value of 0, whose mask has no vertex
 * Validity: sums that start at 0. Shown in laws/control-cusum.
 * Source: G. A. Barnard (1959), Journal of the Royal Statistical Society B 21, 239-271; K. W. Kemp
 * (1961), Journal of the Royal Statistical Society B 23, 149-153; NIST/SEMATECH e-Handbook of
 * Statistical Methods, 6.3.2.3
 * @example vMaskOfTabular({ referenceValue: 0.5, decisionInterval: 4, standardDeviation: 2 }).leadDistanceValues // 8
 */
export function vMaskOfTabular(options: {
  readonly referenceValue: number;
  readonly decisionInterval: number;
  readonly standardDeviation: number;
}): VMask {
  const { referenceValue, decisionInterval, standardDeviation } = options;
  requireDomain(referenceValue > 0, {
    field: 'referenceValue',
    value: referenceValue,
    accepted: 'a number above 0: with 0 the arms never meet',
  });
  return {
    leadDistanceValues: decisionInterval / referenceValue,
    slopePerValue: referenceValue * standardDeviation,
  };
}

/**
 * Values at which a V-mask signals: an earlier cumulative sum lies outside the arms.
 *
 * Formula: with S the cumulative sums from the target and S₀ = 0, value n signals high when
 * Sₙ − Sⱼ > F·(d + n − j) for some j < n, low when Sⱼ − Sₙ is.
 *
 * @param values plotted values in the order of time
 * @param target level from which deviations are summed
 * @param mask lead and slope
 * @returns numbers of the values that signal, from 1, by side
 * Validity: any series; every earlier sum is compared, so that n² steps are taken.
 * Source: as `vMaskOfTabular`
 * @example vMaskSignals([1, 2, 3], 0, { leadDistanceValues: 4, slopePerValue: 0.5 }).high[0] // 3
 */
export function vMaskSignals(
  values: readonly number[],
  target: number,
  mask: VMask,
): { readonly high: readonly number[]; readonly low: readonly number[] } {
  const sums = [0];
  for (const value of values) sums.push((sums[sums.length - 1] as number) + value - target);
  const high: number[] = [];
  const low: number[] = [];
  for (let last = 1; last < sums.length; last += 1) {
    let rise = Number.NEGATIVE_INFINITY;
    let fall = Number.NEGATIVE_INFINITY;
    for (let earlier = 0; earlier < last; earlier += 1) {
      const arm = mask.slopePerValue * (mask.leadDistanceValues + last - earlier);
      const climb = (sums[last] as number) - (sums[earlier] as number);
      rise = Math.max(rise, climb - arm);
      fall = Math.max(fall, -climb - arm);
    }
    if (rise > 0) high.push(last);
    if (fall > 0) low.push(last);
  }
  return { high, low };
}
