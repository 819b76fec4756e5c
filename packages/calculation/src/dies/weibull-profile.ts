import { bracketedRoot } from '../quantity/bracketed-root.ts';
import { upperChiSquareQuantile } from '../quantity/chi-square.ts';
import { powerSums, shapeLogLikelihood, type WeibullData, type WeibullFit } from './weibull-fit.ts';

/** Ends of an interval; none where the likelihood does not fall far enough on that side. */
export interface ProfileInterval {
  readonly lower: number | null;
  readonly upper: number | null;
}

/** Steps away from the estimate, in units of its standard error, before an end counts as infinite. */
const greatestReach = 60;

/** Where a profile falls by the drop on one side of the estimate, in the logarithm of the quantity. */
function endOfProfile(
  fall: (logQuantity: number) => number,
  estimate: number,
  step: number,
): number | null {
  let inner = estimate;
  for (let reach = step; Math.abs(reach) <= greatestReach * Math.abs(step); reach *= 1.5) {
    const outer = estimate + reach;
    if (fall(outer) >= 0) return Math.exp(bracketedRoot(fall, inner, outer));
    inner = outer;
  }
  return null;
}

/** Half of the chi-square quantile: the fall of the log-likelihood at the ends of an interval. */
function halfQuantile(confidence: number): number {
  return upperChiSquareQuantile(1 - confidence, 1) / 2;
}

/**
 * Profile likelihood interval of the shape.
 *
 * Formula: all shapes at which the greatest log-likelihood falls below its maximum by no more than
 * half the chi-square quantile with one degree of freedom.
 *
 * @param data lives as `weibullData` gives them
 * @param fit their fit
 * @param confidence two-sided, 0.5 to 0.999
 * @returns ends, not rounded
 * Validity: ends found to 1e-12; coverage simulated in laws/dies.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 8.3
 * @example shapeInterval(weibullData(riskTable([{ lifeStrikes: 1, end: 'failed' },
 *   { lifeStrikes: 2, end: 'failed' }])), weibullFit(weibullData(riskTable([{ lifeStrikes: 1, end: 'failed' },
 *   { lifeStrikes: 2, end: 'failed' }]))), 0.95).lower // 0.757282
 */
export function shapeInterval(
  data: WeibullData,
  fit: WeibullFit,
  confidence: number,
): ProfileInterval {
  const floor = fit.logLikelihood - halfQuantile(confidence);
  const fall = (logShape: number) => floor - shapeLogLikelihood(data, Math.exp(logShape));
  const estimate = Math.log(fit.shape);
  return {
    lower: endOfProfile(fall, estimate, -2 * fit.logShapeStandardError),
    upper: endOfProfile(fall, estimate, 2 * fit.logShapeStandardError),
  };
}

/** Further strikes at a stated risk of a die that has already made so many; a new die has made 0. */
export interface LifeAtRisk {
  readonly ageStrikes: number;
  readonly risk: number;
}

/**
 * Further strikes that a die makes before it fails with the stated risk.
 *
 * Formula: t with S(age + t)/S(age) = 1 − risk: t = age·[(1 − (η/age)ᵝ·ln(1 − risk))^(1/β) − 1]; for
 * a new die t = η·(−ln(1 − risk))^(1/β).
 *
 * @param life scale in strikes and shape, both above 0
 * @param at age in strikes, 0 or more; risk in the open range (0, 1)
 * @returns strikes, not rounded
 * Validity: exact formula.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 4.8
 * @example lifeAtRisk({ scaleStrikes: 100, shape: 1 }, { ageStrikes: 50, risk: 0.5 }) // 69.314718056
 */
export function lifeAtRisk(
  life: { readonly scaleStrikes: number; readonly shape: number },
  at: LifeAtRisk,
): number {
  const hazard = -Math.log1p(-at.risk);
  if (at.ageStrikes === 0) return life.scaleStrikes * hazard ** (1 / life.shape);
  const ratio = (life.scaleStrikes / at.ageStrikes) ** life.shape * hazard;
  return at.ageStrikes * Math.expm1(Math.log1p(ratio) / life.shape);
}

/**
 * ln λ and its two derivatives by the shape, where λ = hazard/((age + t)ᵝ − ageᵝ) is η^(−β) for a
 * life that is fixed at t; lives relative to the longest.
 */
function logRate(age: number, further: number, hazard: number, shape: number) {
  if (age === 0) {
    const log = Math.log(further);
    return { value: Math.log(hazard) - shape * log, first: -log, second: 0 };
  }
  const log = Math.log(age);
  const growth = Math.log1p(further / age);
  const decay = Math.exp(-shape * growth);
  const rest = -Math.expm1(-shape * growth);
  return {
    value: Math.log(hazard) - shape * (log + growth) - Math.log(rest),
    first: -log - growth / rest,
    second: (growth ** 2 * decay) / rest ** 2,
  };
}

/** Greatest log-likelihood when the life at risk is fixed, and the shape where it is reached. */
function fixedLifeMaximum(
  data: WeibullData,
  at: LifeAtRisk,
  furtherStrikes: number,
  startShape: number,
): { readonly logLikelihood: number; readonly shape: number } {
  const { failures, failedLogSum, longestStrikes } = data;
  const hazard = -Math.log1p(-at.risk);
  const age = at.ageStrikes / longestStrikes;
  const further = furtherStrikes / longestStrikes;
  const evaluate = (shape: number) => {
    const rate = logRate(age, further, hazard, shape);
    const sums = powerSums(data, shape);
    const lambda = Math.exp(rate.value);
    const value =
      failures * (Math.log(shape) + rate.value - Math.log(longestStrikes)) +
      (shape - 1) * failedLogSum -
      lambda * sums.power;
    const slope =
      failures / shape +
      failedLogSum +
      failures * rate.first -
      lambda * (sums.first + rate.first * sums.power);
    const bend =
      -failures / shape ** 2 +
      failures * rate.second -
      lambda *
        (sums.second + 2 * rate.first * sums.first + (rate.first ** 2 + rate.second) * sums.power);
    return { value, slope: shape * slope, bend: shape * slope + shape ** 2 * bend };
  };
  let shape = startShape;
  let here = evaluate(shape);
  for (let step = 0; step < 100; step += 1) {
    let move = here.bend < 0 ? -here.slope / here.bend : Math.sign(here.slope) * 0.5;
    move = Math.max(-1, Math.min(1, move));
    if (Math.abs(move) < 1e-9) break;
    let next = evaluate(shape * Math.exp(move));
    while (!(next.value >= here.value - 1e-12 * Math.abs(here.value)) && Math.abs(move) > 1e-9) {
      move /= 2;
      next = evaluate(shape * Math.exp(move));
    }
    shape *= Math.exp(move);
    here = next;
  }
  return { logLikelihood: here.value, shape };
}

/** Standard error of the logarithm of a life at risk, by first order propagation. */
function logLifeStandardError(fit: WeibullFit, at: LifeAtRisk): number {
  // Central differences of ln t in ln η and ln β; their error is far below that of the propagation.
  const h = 1e-5;
  const log = (scaleFactor: number, shapeFactor: number) =>
    Math.log(
      lifeAtRisk(
        { scaleStrikes: fit.scaleStrikes * scaleFactor, shape: fit.shape * shapeFactor },
        at,
      ),
    );
  const byScale = (log(Math.exp(h), 1) - log(Math.exp(-h), 1)) / (2 * h);
  const byShape = (log(1, Math.exp(h)) - log(1, Math.exp(-h))) / (2 * h);
  return Math.sqrt(
    (byScale * fit.logScaleStandardError) ** 2 +
      (byShape * fit.logShapeStandardError) ** 2 +
      2 * byScale * byShape * fit.logCovariance,
  );
}

/**
 * Profile likelihood interval of a life at a stated risk, for a new die or one of a given age. With
 * age 0 and risk 1 − 1/e it is the interval of the scale.
 *
 * Formula: all lives t at which the greatest log-likelihood over the shapes, the scale being the one
 * that gives t, falls below the maximum by no more than half the chi-square quantile.
 *
 * @param data lives as `weibullData` gives them
 * @param fit their fit
 * @param at age in strikes, 0 or more; risk in (0, 1)
 * @param confidence two-sided, 0.5 to 0.999
 * @returns ends in strikes, not rounded; null where the likelihood does not fall so far
 * Validity: ends found to about 1e-8; coverage simulated in laws/dies. See reference/generated/dies.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 8.3
 * @example lifeAtRiskInterval(weibullData(riskTable([{ lifeStrikes: 1, end: 'failed' },
 *   { lifeStrikes: 2, end: 'failed' }])), weibullFit(weibullData(riskTable([{ lifeStrikes: 1, end: 'failed' },
 *   { lifeStrikes: 2, end: 'failed' }]))), { ageStrikes: 0, risk: 0.5 }, 0.9).lower // 0.746475
 */
export function lifeAtRiskInterval(
  data: WeibullData,
  fit: WeibullFit,
  at: LifeAtRisk,
  confidence: number,
): ProfileInterval {
  const floor = fit.logLikelihood - halfQuantile(confidence);
  let shape = fit.shape;
  const fall = (logLife: number) => {
    const best = fixedLifeMaximum(data, at, Math.exp(logLife), shape);
    // The next life lies close by, so its best shape does too.
    shape = best.shape;
    return floor - best.logLikelihood;
  };
  const estimate = Math.log(lifeAtRisk(fit, at));
  const step = 2 * logLifeStandardError(fit, at);
  const lower = endOfProfile(fall, estimate, -step);
  shape = fit.shape;
  return { lower, upper: endOfProfile(fall, estimate, step) };
}
