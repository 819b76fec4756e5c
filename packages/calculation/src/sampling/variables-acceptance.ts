import { bracketedRoot } from '../quantity/bracketed-root.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import type { DeviationMethod } from './variables-estimate.ts';
import { meanNormal, type SpreadRule, spreadRule } from './variables-noncentral-t.ts';

/** A plan for one limit: accept when (limit − mean)/deviation is at least the constant. */
export interface VariablesPlan {
  readonly sampleSizePieces: number;
  readonly acceptabilityConstant: number;
  readonly method: DeviationMethod;
}

/** Beyond this the normal quantile has no meaning for a lot. */
const smallestFraction = 1e-12;

/** Quantiles up to which one rule of averaging serves; a finer one is made when it is asked for. */
const quantileClasses = [0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 7.1] as const;

function ruleByQuality(n: number, constant: number): (quantile: number) => SpreadRule {
  const rules = new Map<number, SpreadRule>();
  return (quantile) => {
    const steepest = Math.max(constant, quantileClasses.find((one) => quantile <= one) ?? quantile);
    const made = rules.get(steepest) ?? spreadRule(n - 1, Math.sqrt(n) * steepest);
    rules.set(steepest, made);
    return made;
  };
}

/**
 * Operating characteristic of a variables plan for one limit, as a function that may be asked for many
 * qualities.
 *
 * Formula: z the upper quantile of the fraction. Method sigma: Φ((z − k)·√n). Method s: P(T > k·√n), T
 * noncentral t with n − 1 degrees of freedom and noncentrality z·√n.
 *
 * @param plan n from 2 to 100 000, k from −10 to 10, method
 * @returns function of the fraction nonconforming, from 0 to 1; probability in [0, 1], not rounded
 * @throws DomainError for a plan or fraction outside its range
 * Validity: normal measurements; two limits far enough apart that only one is in danger. Accuracy
 * 1e-14. See reference/variables-plans.
 * Source: MIL-STD-414 (1957), Table A-3 (curves); N. L. Johnson and B. L. Welch (1940), Biometrika 31,
 * 362-389
 * @example variablesAcceptance({ sampleSizePieces: 35, acceptabilityConstant: 1.89, method: 's' })(0.01) // 0.9416725
 */
export function variablesAcceptance(plan: VariablesPlan): (fraction: number) => number {
  const { sampleSizePieces: n, acceptabilityConstant: k, method } = plan;
  requireDomain(Number.isInteger(n) && n >= 2 && n <= 100_000, {
    field: 'sampleSizePieces',
    value: n,
    accepted: 'a whole number of pieces from 2 to 100000',
  });
  requireDomain(k >= -10 && k <= 10, {
    field: 'acceptabilityConstant',
    value: k,
    accepted: 'a number from -10 to 10',
  });
  const root = Math.sqrt(n);
  const ruleFor = ruleByQuality(n, Math.abs(k));
  return (fraction) => {
    requireDomain(fraction >= 0 && fraction <= 1, {
      field: 'fraction',
      value: fraction,
      accepted: 'a fraction from 0 to 1',
    });
    if (fraction < smallestFraction) return 1;
    if (fraction > 1 - smallestFraction) return 0;
    const z = -normalQuantile(fraction);
    return method === 'sigma'
      ? normalDistribution((z - k) * root, 0, 1)
      : meanNormal(ruleFor(Math.abs(z)), z * root, -k * root);
  };
}

/** Fraction at which a plan accepts with a given probability; the characteristic falls all the way. */
export function fractionAt(plan: VariablesPlan, probability: number): number {
  requireDomain(probability > 0 && probability < 1, {
    field: 'probability',
    value: probability,
    accepted: 'a probability above 0 and below 1',
  });
  const accept = variablesAcceptance(plan);
  const excess = (z: number) => accept(normalDistribution(z, 0, 1)) - probability;
  return normalDistribution(bracketedRoot(excess, -7, 7), 0, 1);
}

/** Constant with which a sample of n accepts a quality with a given probability. */
export function constantAt(
  sampleSizePieces: number,
  method: DeviationMethod,
  fraction: number,
  probability: number,
): number {
  const z = -normalQuantile(fraction);
  const root = Math.sqrt(sampleSizePieces);
  if (method === 'sigma') return z - normalQuantile(probability) / root;
  const rule = spreadRule(sampleSizePieces - 1, root * (Math.abs(z) + 10));
  const excess = (k: number) => meanNormal(rule, z * root, -k * root) - probability;
  let reach = 1;
  while (excess(z + reach) > 0 && reach < 1e9) reach *= 2;
  let back = 1;
  while (excess(z - back) < 0 && back < 1e9) back *= 2;
  return bracketedRoot(excess, z - back, z + reach);
}
