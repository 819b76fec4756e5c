import { normalDistribution, normalLogDensity } from '../quantity/normal.ts';
import type { RiskRow } from './die-life.ts';

/** A lognormal life: mean and standard deviation of ln(life in strikes). */
export interface LognormalFit {
  readonly logMean: number;
  readonly logStandardDeviation: number;
  readonly logLikelihood: number;
}

/** ln of the upper tail of the standard normal, and the hazard φ/Q. */
function upperTail(z: number): { readonly log: number; readonly hazard: number } {
  // Beyond 30 the tail would soon underflow; three terms of its expansion are exact there.
  const log =
    z < 30
      ? Math.log(normalDistribution(-z, 0, 1))
      : normalLogDensity(z, 0, 1) - Math.log(z) + Math.log1p(-1 / z ** 2 + 3 / z ** 4);
  return { log, hazard: Math.exp(normalLogDensity(z, 0, 1) - log) };
}

interface Ascent {
  readonly value: number;
  readonly gradient: readonly [number, number];
  readonly bend: readonly [number, number, number];
}

/** Log-likelihood with slopes in γ = 1/σ and δ = μ/σ, in which it has a single summit. */
function ascentAt(rows: readonly RiskRow[], inverse: number, ratio: number): Ascent {
  let value = 0;
  const gradient: [number, number] = [0, 0];
  const bend: [number, number, number] = [0, 0, 0];
  for (const row of rows) {
    const x = Math.log(row.lifeStrikes);
    const z = inverse * x - ratio;
    const { log, hazard } = upperTail(z);
    value += row.failedDies * (Math.log(inverse) + normalLogDensity(z, 0, 1) - x);
    value += row.censoredDies * log;
    const push = row.failedDies * z + row.censoredDies * hazard;
    const weight = row.failedDies + row.censoredDies * hazard * (hazard - z);
    gradient[0] += row.failedDies / inverse - push * x;
    gradient[1] += push;
    bend[0] += row.failedDies / inverse ** 2 + weight * x * x;
    bend[1] -= weight * x;
    bend[2] += weight;
  }
  return { value, gradient, bend };
}

/**
 * Lognormal life by maximum likelihood with right censoring, to be held against the Weibull life.
 *
 * Formula: log-likelihood Σ over the failed of ln[φ(z)/(σt)] and over the censored of ln Q(z), with
 * z = (ln t − μ)/σ; Newton's steps in 1/σ and μ/σ.
 *
 * @param rows table of risk with two different lives at which dies failed, or a failure before a
 *   censored life
 * @returns mean and standard deviation of ln(life) with strikes as the unit, log-likelihood
 * Validity: one maximum, found to about 1e-10. See reference/die-lives.
 * Source: W. Q. Meeker and L. A. Escobar (1998), Statistical Methods for Reliability Data, 8.3;
 * R. J. Olsen (1978), Econometrica 46, 1211-1215 (the parameters with one summit)
 * @example lognormalFit(riskTable([{ lifeStrikes: 1, end: 'failed' },
 *   { lifeStrikes: Math.E, end: 'failed' }])).logMean // 0.5
 */
export function lognormalFit(rows: readonly RiskRow[]): LognormalFit {
  const failures = rows.reduce((sum, row) => sum + row.failedDies, 0);
  const logs = rows.map((row) => Math.log(row.lifeStrikes));
  const mean =
    rows.reduce((sum, row, index) => sum + row.failedDies * (logs[index] ?? 0), 0) / failures;
  let inverse = 1 / Math.max(1e-6, Math.max(...logs) - Math.min(...logs));
  let ratio = mean * inverse;
  let here = ascentAt(rows, inverse, ratio);
  for (let step = 0; step < 100; step += 1) {
    const [a, b, c] = here.bend;
    const [p, q] = here.gradient;
    const determinant = a * c - b * b;
    let byInverse = (c * p - b * q) / determinant;
    let byRatio = (a * q - b * p) / determinant;
    let next = here;
    for (let halving = 0; halving < 60; halving += 1) {
      if (inverse + byInverse > 0) next = ascentAt(rows, inverse + byInverse, ratio + byRatio);
      if (inverse + byInverse > 0 && next.value >= here.value) break;
      byInverse /= 2;
      byRatio /= 2;
    }
    inverse += byInverse;
    ratio += byRatio;
    here = next;
    if (Math.abs(byInverse) <= 1e-13 * inverse) break;
  }
  return {
    logMean: ratio / inverse,
    logStandardDeviation: 1 / inverse,
    logLikelihood: here.value,
  };
}
