import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import type { RiskRow } from './die-life.ts';

/** Lives made ready for a fit: logarithms relative to the longest life, with their counts. */
export interface WeibullData {
  readonly longestStrikes: number;
  /** ln(life/longest) of every different life, at most 0. */
  readonly logLives: Float64Array;
  /** Dies of that life, failed and censored. */
  readonly dies: Float64Array;
  readonly failures: number;
  /** Σ of ln(life/longest) over the dies that failed. */
  readonly failedLogSum: number;
}

/** A fitted Weibull life and what is needed to judge it. */
export interface WeibullFit {
  readonly scaleStrikes: number;
  readonly shape: number;
  readonly logLikelihood: number;
  /** From the observed information. */
  readonly logScaleStandardError: number;
  readonly logShapeStandardError: number;
  readonly logCovariance: number;
}

const accepted =
  'at least one die that failed before the longest life of all, so that the lives differ';

/**
 * Lives made ready for a Weibull fit, from their table of risk.
 *
 * Formula: logarithms relative to the longest life, so that no power of a life overflows.
 *
 * @param rows table of risk of one family of dies
 * @returns logarithms, counts and sums
 * @throws DomainError when no die failed before the longest life: the shape would then be infinite
 * Validity: exact sums, compensated.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 8.4
 * @example weibullData(riskTable([{ lifeStrikes: 1, end: 'failed' }, { lifeStrikes: 2, end: 'censored' }])).failures // 1
 */
export function weibullData(rows: readonly RiskRow[]): WeibullData {
  const longestStrikes = rows.at(-1)?.lifeStrikes ?? 0;
  const failures = rows.reduce((sum, row) => sum + row.failedDies, 0);
  requireDomain(
    rows.some((row) => row.failedDies > 0 && row.lifeStrikes < longestStrikes),
    { field: 'lives', value: failures === 0 ? 'no failure' : 'all failures at the end', accepted },
  );
  const logLives = new Float64Array(rows.length);
  const dies = new Float64Array(rows.length);
  const failedLogs: number[] = [];
  for (const [index, row] of rows.entries()) {
    const log = Math.log(row.lifeStrikes / longestStrikes);
    logLives[index] = log;
    dies[index] = row.failedDies + row.censoredDies;
    if (row.failedDies > 0) failedLogs.push(row.failedDies * log);
  }
  const failedLogSum = compensatedSum(failedLogs);
  return { longestStrikes, logLives, dies, failures, failedLogSum };
}

/** Σ tᵝ, Σ tᵝ·ln t and Σ tᵝ·ln² t over all dies, t relative to the longest life. */
export interface PowerSums {
  readonly power: number;
  readonly first: number;
  readonly second: number;
}

export function powerSums(data: WeibullData, shape: number): PowerSums {
  const { logLives, dies } = data;
  let power = 0;
  let first = 0;
  let second = 0;
  for (let index = 0; index < logLives.length; index += 1) {
    const log = logLives[index] as number;
    const term = (dies[index] as number) * Math.exp(shape * log);
    power += term;
    first += term * log;
    second += term * log * log;
  }
  return { power, first, second };
}

/** Greatest log-likelihood at a given shape, the scale being the best for it. */
export function shapeLogLikelihood(data: WeibullData, shape: number): number {
  const { failures, failedLogSum, longestStrikes } = data;
  const { power } = powerSums(data, shape);
  return (
    failures * (Math.log(shape) - Math.log(power / failures) - 1 - Math.log(longestStrikes)) +
    (shape - 1) * failedLogSum
  );
}

/**
 * Shape at which the likelihood of one or several families with a common shape is greatest, each
 * family with a scale of its own.
 *
 * Formula: root of Σ r·[Σtᵝ·ln t/Σtᵝ] − r/β − Σ ln t over the failed, which rises with β; Newton's
 * steps in ln β held inside a bracket.
 */
export function commonShape(families: readonly WeibullData[]): number {
  const failures = families.reduce((sum, one) => sum + one.failures, 0);
  const failedLogSum = families.reduce((sum, one) => sum + one.failedLogSum, 0);
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  // The slope of a Weibull plot of uncensored lives, as a start.
  let shape = Math.max(1e-3, Math.min(1e3, -failures / failedLogSum));
  for (let step = 0; step < 200; step += 1) {
    let score = -failures / shape - failedLogSum;
    let slope = failures / shape ** 2;
    for (const family of families) {
      const { power, first, second } = powerSums(family, shape);
      const mean = first / power;
      score += family.failures * mean;
      slope += family.failures * (second / power - mean * mean);
    }
    if (score > 0) high = shape;
    else low = shape;
    const aim = shape * Math.exp(-score / (slope * shape));
    const inside = aim > low && aim < high;
    const next = inside ? aim : Number.isFinite(high) ? (low + high) / 2 : 2 * shape;
    if (Math.abs(next - shape) <= 2 * Number.EPSILON * shape) return next;
    shape = next;
  }
  return shape;
}

/** ln of the scale that is best for a shape, in strikes. */
export function bestLogScale(data: WeibullData, shape: number): number {
  const { power } = powerSums(data, shape);
  return Math.log(data.longestStrikes) + Math.log(power / data.failures) / shape;
}

/**
 * Weibull life by maximum likelihood, dies that did not fail counting with the strikes that they
 * have survived.
 *
 * Formula: S(t) = exp(−(t/η)ᵝ). Log-likelihood Σ over the failed of ln β − ln t + β·ln(t/η), less
 * Σ over all of (t/η)ᵝ. The scale that is best for a shape is ηᵝ = Σtᵝ/r, r the number of failures;
 * the shape is the root of one equation. Standard errors of ln η and ln β from the inverse of the
 * observed information.
 *
 * @param data lives as `weibullData` gives them
 * @returns scale in strikes, shape, log-likelihood, standard errors and covariance of their logarithms
 * Validity: the likelihood has one maximum; it is found to about 1e-14 of the shape. Standard errors
 * are approximate below about twenty failures: prefer the profile intervals. See reference/die-lives.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 8.3 and 8.4
 * @example weibullFit(weibullData(riskTable([{ lifeStrikes: 1, end: 'failed' },
 *   { lifeStrikes: 2, end: 'failed' }]))).shape // 3.4615408
 */
export function weibullFit(data: WeibullData): WeibullFit {
  const shape = commonShape([data]);
  const logScale = bestLogScale(data, shape);
  const offset = Math.log(data.longestStrikes) - logScale;
  let weighted = 0;
  let weightedSquare = 0;
  for (let index = 0; index < data.logLives.length; index += 1) {
    const z = shape * ((data.logLives[index] as number) + offset);
    const hazard = (data.dies[index] as number) * Math.exp(z);
    weighted += hazard * z;
    weightedSquare += hazard * z * z;
  }
  // Information about ln η and ln β: [[β²r, −βΣez], [−βΣez, r + Σez²]], e the cumulative hazard.
  const scaleInformation = shape ** 2 * data.failures;
  const shapeInformation = data.failures + weightedSquare;
  const shared = -shape * weighted;
  const determinant = scaleInformation * shapeInformation - shared ** 2;
  return {
    scaleStrikes: Math.exp(logScale),
    shape,
    logLikelihood: shapeLogLikelihood(data, shape),
    logScaleStandardError: Math.sqrt(shapeInformation / determinant),
    logShapeStandardError: Math.sqrt(scaleInformation / determinant),
    logCovariance: -shared / determinant,
  };
}
