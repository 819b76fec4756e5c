import { requireDomain } from '../quantity/domain.ts';
import { tabulatedErfc } from './variables-error-function.ts';

/**
 * Nodes reach so many standard deviations of ln(s/σ) down and up: rare acceptances come from small
 * deviations, so that the lower side decides how far a small probability keeps its digits.
 */
const reachDown = 16;
const reachUp = 9;
/** A node for each so much of the narrowest feature of the integrand, and never wider than the cap. */
const spacing = 0.6;
const widestStep = 0.09;
/** Above this argument erfc is nothing. */
const hopeless = 27;
/** Below this sum the nodes of less than a visible weight are added too. */
const rare = 1e-3;
const visible = 1e-20;
const greatestDegreesOfFreedom = 1e6;

/** Nodes of a rule for means over the distribution of s/σ with given degrees of freedom. */
export interface SpreadRule {
  /** s/σ at each node. */
  readonly ratios: Float64Array;
  /** Weights, their sum one. */
  readonly weights: Float64Array;
  /** First node whose weight, and that of all below, could still be seen in a sum near one. */
  readonly innerFrom: number;
}

/**
 * Nodes and weights for means over the distribution of the ratio of a sample's standard deviation to
 * the true one.
 *
 * Formula: trapezoidal rule in w = ln(s/σ), where the density is proportional to
 * exp(νw − (ν/2)·e^(2w)); it converges faster than any power of the spacing. The weights are divided
 * by their sum, so that no gamma function is needed.
 *
 * @param degreesOfFreedom ν, from 1 to 1 000 000
 * @param steepness greatest of |a| and |b| of the averaged function Φ(a + b·s/σ), 0 or more
 * @returns ratios ascending, weights with sum one
 * @throws DomainError for degrees of freedom outside their range
 * Validity: means of Φ(a + b·s/σ) within 1e-14.
 * Source: L. N. Trefethen and J. A. C. Weideman (2014), SIAM Review 56, 385-458 (trapezoidal rule)
 * @example spreadRule(10, 3).weights.reduce((sum, weight) => sum + weight, 0) // 1
 */
export function spreadRule(degreesOfFreedom: number, steepness: number): SpreadRule {
  const nu = degreesOfFreedom;
  requireDomain(nu >= 1 && nu <= greatestDegreesOfFreedom, {
    field: 'degreesOfFreedom',
    value: nu,
    accepted: 'a number from 1 to 1000000',
  });
  const deviation = 1 / Math.sqrt(2 * nu);
  const step = Math.min(spacing / Math.sqrt(2 * nu + steepness * steepness), widestStep);
  // To the left the density falls only as exp(νw), which is slow for few degrees of freedom.
  const left = -Math.max(reachDown * deviation, 40 / nu);
  const right = Math.min(reachUp * deviation, 2.5);
  const first = Math.floor(left / step);
  const count = Math.ceil(right / step) - first + 1;
  const ratios = new Float64Array(count);
  const weights = new Float64Array(count);
  let total = 0;
  for (let index = 0; index < count; index += 1) {
    const w = (first + index) * step;
    const ratio = Math.exp(w);
    // ν/2·(e^(2w) − 1 − 2w), so that the greatest density is one whatever ν is.
    const weight = Math.exp((-nu / 2) * (Math.expm1(2 * w) - 2 * w));
    ratios[index] = ratio;
    weights[index] = weight;
    total += weight;
  }
  for (let index = 0; index < count; index += 1) {
    weights[index] = (weights[index] as number) / total;
  }
  const innerFrom = weights.findIndex((weight) => weight > visible);
  return { ratios, weights, innerFrom };
}

/** Mean of Φ(intercept + slope·s/σ) over a rule. */
export function meanNormal(rule: SpreadRule, intercept: number, slope: number): number {
  const { ratios } = rule;
  const a = -intercept / Math.SQRT2;
  const b = -slope / Math.SQRT2;
  const inner = partialMean(rule, a, b, rule.innerFrom, ratios.length);
  // The far lower nodes matter only where everything else is small.
  const outer = inner < rare ? partialMean(rule, a, b, 0, rule.innerFrom) : 0;
  return (inner + outer) / 2;
}

function partialMean(rule: SpreadRule, a: number, b: number, from: number, to: number): number {
  const { ratios, weights } = rule;
  let sum = 0;
  for (let index = from; index < to; index += 1) {
    const argument = a + b * (ratios[index] as number);
    if (argument > hopeless) continue;
    sum += (weights[index] as number) * tabulatedErfc(argument);
  }
  return sum;
}

/**
 * Probability that a noncentral t quantity exceeds a value: the operating characteristic of a
 * variables plan with the sample's own standard deviation.
 *
 * Formula: P(T > t) = mean of Φ(δ − t·s/σ) over the distribution of s/σ with ν degrees of freedom.
 *
 * @param t any number
 * @param degreesOfFreedom ν, from 1 to 1 000 000
 * @param noncentrality δ, from −1000 to 1000
 * @returns probability in [0, 1], not rounded
 * @throws DomainError for an argument outside its range
 * Validity: absolute accuracy 1e-14; relative 1e-9 down to 1e-12. See reference/generated/variables.
 * Source: N. L. Johnson and B. L. Welch (1940), Biometrika 31, 362-389
 * @example noncentralTUpper(1.89 * Math.sqrt(35), 34, 2.3263478740408408 * Math.sqrt(35)) // 0.9416725
 */
export function noncentralTUpper(
  t: number,
  degreesOfFreedom: number,
  noncentrality: number,
): number {
  requireDomain(Math.abs(noncentrality) <= 1000, {
    field: 'noncentrality',
    value: noncentrality,
    accepted: 'a number from -1000 to 1000',
  });
  requireDomain(Number.isFinite(t), { field: 't', value: t, accepted: 'a finite number' });
  const rule = spreadRule(degreesOfFreedom, Math.max(Math.abs(t), Math.abs(noncentrality)));
  return meanNormal(rule, noncentrality, -t);
}
