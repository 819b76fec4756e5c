import { equalPanels, panelRule } from '../quantity/gauss-legendre.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';

/** Lower and upper limit, each may be absent. */
export interface MassLimits {
  readonly lower?: number;
  readonly upper?: number;
}

/** Standard uncertainties of a value: its own, and one that all values share. */
export interface SharedUncertainty {
  readonly own: number;
  readonly common: number;
}

/** Beyond so many standard uncertainties inside its limits a value does not matter. */
const farInside = 9;

/** Probability that a value with its own error only lies within the limits. */
function within(value: number, own: number, limits: MassLimits): number {
  const { lower = -Infinity, upper = Infinity } = limits;
  if (own === 0) return value >= lower && value <= upper ? 1 : 0;
  const below = lower === -Infinity ? 0 : normalDistribution(lower, value, own);
  const above = upper === Infinity ? 0 : normalDistribution(-upper, -value, own);
  return Math.max(0, 1 - below - above);
}

/**
 * Probability that one measured value lies within its limits.
 *
 * Formula: Φ((y − lower)/u) − Φ((y − upper)/u), u of own and common error together.
 *
 * @param value measured
 * @param uncertainty own and common standard uncertainty, 0 or more, in the unit of the value
 * @param limits lower, upper or both
 * @returns probability in [0, 1]
 * Validity: normal errors, nothing known of the value before it was measured.
 * Source: JCGM 106:2012, 7.3 and 7.4
 * @example conformityProbability(10, { own: 1, common: 0 }, { lower: 10 }) // 0.5
 */
export function conformityProbability(
  value: number,
  uncertainty: SharedUncertainty,
  limits: MassLimits,
): number {
  return within(value, Math.hypot(uncertainty.own, uncertainty.common), limits);
}

/**
 * Probability that all of several measured values lie within the limits, when they share an error.
 *
 * Formula: ∫ N(c; 0, uc²)·Π P(lower ≤ yᵢ − c − eᵢ ≤ upper) dc, the product over values that their own
 * errors eᵢ could carry out, by Gauss–Legendre quadrature; without own errors the interval of c that
 * keeps all values inside.
 *
 * @param values 1 or more measured values
 * @param uncertainty own and common standard uncertainty, 0 or more
 * @param limits lower, upper or both
 * @returns probability in [0, 1]
 * Validity: normal errors; quadrature error below 1e-10. Held against simulation in laws/weights-money.
 * Source: JCGM 106:2012, 7.2, for one value; total probability over the common error
 * @example jointConformity([10, 10], { own: 1, common: 0 }, { lower: 10 }) // 0.25
 */
export function jointConformity(
  values: readonly number[],
  uncertainty: SharedUncertainty,
  limits: MassLimits,
): number {
  const { own, common } = uncertainty;
  const { lower = -Infinity, upper = Infinity } = limits;
  const reach = farInside * (own + common);
  const near = values.filter((value) => value - lower < reach || upper - value < reach);
  if (near.length === 0) return 1;
  const product = (shift: number): number =>
    near.reduce((all, value) => (all === 0 ? 0 : all * within(value - shift, own, limits)), 1);
  if (common === 0) return product(0);
  if (own === 0) {
    const most = near.reduce((least, value) => Math.min(least, value), Infinity) - lower;
    const least = near.reduce((greatest, value) => Math.max(greatest, value), -Infinity) - upper;
    if (least >= most) return 0;
    const below = least === -Infinity ? 0 : normalDistribution(least, 0, common);
    const above = most === Infinity ? 0 : normalDistribution(-most, 0, common);
    return Math.max(0, 1 - below - above);
  }
  // Panels fine against the narrower of the two errors, wherever it acts.
  const width = Math.min(common, Math.max(own, common / 50));
  const panels = Math.ceil((2 * farInside * common) / width);
  const rule = panelRule(equalPanels(-farInside * common, farInside * common, panels));
  let sum = 0;
  for (const [index, shift] of rule.nodes.entries()) {
    sum += (rule.weights[index] as number) * normalDensity(shift, 0, common) * product(shift);
  }
  return Math.min(1, sum);
}
