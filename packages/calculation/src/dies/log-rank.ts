import { solveDense } from '../control/linear-system.ts';
import { upperChiSquareProbability } from '../quantity/chi-square.ts';
import { requireDomain } from '../quantity/domain.ts';
import type { RiskRow } from './die-life.ts';

/** What the log-rank comparison finds. */
export interface LogRank {
  readonly observedFailures: readonly number[];
  readonly expectedFailures: readonly number[];
  /** Variances and covariances of observed less expected, one row for each family. */
  readonly covariance: readonly (readonly number[])[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly probability: number;
}

/** Walks the tables of all families together and calls once for each life at which a die failed. */
function eachFailureLife(
  families: readonly (readonly RiskRow[])[],
  visit: (atRisk: readonly number[], failed: readonly number[]) => void,
): void {
  const places = families.map(() => 0);
  const atRisk = families.map((rows) => rows[0]?.atRiskDies ?? 0);
  const failed = families.map(() => 0);
  for (;;) {
    let life = Number.POSITIVE_INFINITY;
    for (let k = 0; k < families.length; k += 1) {
      life = Math.min(life, families[k]?.[places[k] ?? 0]?.lifeStrikes ?? Number.POSITIVE_INFINITY);
    }
    if (life === Number.POSITIVE_INFINITY) return;
    let left = 0;
    for (let k = 0; k < families.length; k += 1) {
      const row = families[k]?.[places[k] ?? 0];
      failed[k] = row?.lifeStrikes === life ? row.failedDies : 0;
      left += failed[k] ?? 0;
    }
    if (left > 0) visit(atRisk, failed);
    for (let k = 0; k < families.length; k += 1) {
      const row = families[k]?.[places[k] ?? 0];
      if (row?.lifeStrikes !== life) continue;
      atRisk[k] = row.atRiskDies - row.failedDies - row.censoredDies;
      places[k] = (places[k] ?? 0) + 1;
    }
  }
}

/**
 * Log-rank comparison of families of dies: whether they fail at the same rate.
 *
 * Formula: at each life at which d of n dies failed, a family with m of the n expects d·m/n failures,
 * with the hypergeometric variance d(n − d)/(n − 1)·(m/n)(1 − m/n) and covariance
 * −d(n − d)/(n − 1)·m·m′/n². Chi-square = (O − E)ᵀ·V⁻¹·(O − E) without the last family.
 *
 * @param families tables of risk of two or more families, each of one die at least
 * @returns observed and expected failures, chi-square, degrees of freedom, probability of a
 *   chi-square as large when the families are alike
 * @throws DomainError when there are fewer than two families or the failures cannot tell them apart
 * Validity: chi-square is a good approximation from about five expected failures in each family. See
 * reference/die-lives.
 * Source: N. Mantel (1966), Cancer Chemotherapy Reports 50, 163-170; R. Peto and J. Peto (1972),
 * Journal of the Royal Statistical Society A 135, 185-207
 * @example logRank([riskTable([{ lifeStrikes: 1, end: 'failed' }]), riskTable([{ lifeStrikes: 2,
 *   end: 'failed' }])]).chiSquare // 1
 */
export function logRank(families: readonly (readonly RiskRow[])[]): LogRank {
  const size = families.length;
  const observed = new Array<number>(size).fill(0);
  const expected = new Array<number>(size).fill(0);
  const covariance = families.map(() => new Array<number>(size).fill(0));
  eachFailureLife(families, (atRisk, failed) => {
    let n = 0;
    let d = 0;
    for (let k = 0; k < size; k += 1) {
      n += atRisk[k] ?? 0;
      d += failed[k] ?? 0;
    }
    const spread = n > 1 ? (d * (n - d)) / (n - 1) : 0;
    for (let k = 0; k < size; k += 1) {
      const share = (atRisk[k] ?? 0) / n;
      observed[k] = (observed[k] ?? 0) + (failed[k] ?? 0);
      expected[k] = (expected[k] ?? 0) + d * share;
      const row = covariance[k] as number[];
      for (let other = 0; other < size; other += 1) {
        const both = (other === k ? share : 0) - (share * (atRisk[other] ?? 0)) / n;
        row[other] = (row[other] ?? 0) + spread * both;
      }
    }
  });
  const free = Math.max(0, size - 1);
  const difference = observed.slice(0, free).map((value, k) => value - (expected[k] ?? 0));
  const [weights] = solveDense(
    Float64Array.from(covariance.slice(0, free).flatMap((row) => row.slice(0, free))),
    [Float64Array.from(difference)],
  );
  const chiSquare = difference.reduce((sum, value, k) => sum + value * (weights?.[k] ?? 0), 0);
  requireDomain(free > 0 && Number.isFinite(chiSquare), {
    field: 'families',
    value: `${size} families without a failure that two of them could share`,
    accepted: 'two or more families, each at risk at some failure of another',
  });
  return {
    observedFailures: observed,
    expectedFailures: expected,
    covariance,
    chiSquare: Math.max(0, chiSquare),
    degreesOfFreedom: free,
    probability: upperChiSquareProbability(Math.max(0, chiSquare), free),
  };
}
