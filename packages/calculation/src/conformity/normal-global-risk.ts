import { DomainError, requireDomain } from '../quantity/domain.ts';
import { type Bound, bivariateBelow, bound, mirroredBound } from './bivariate-normal.ts';
import type { GlobalRisk, Interval } from './global-risk.ts';

/** A process that makes normal items, and the measurement of them. */
export interface NormalProcess {
  readonly mean: number;
  readonly standardDeviation: number;
}

export interface AcceptanceRisk extends GlobalRisk {
  /** Probability that an item is accepted. */
  readonly acceptedShare: number;
}

interface Range {
  readonly from: Bound;
  readonly to: Bound;
}

/** Probability between two standardised ends, from the smaller tails. */
function between({ from, to }: Range): number {
  return from.z > 0 ? from.tail - to.tail : to.below - from.below;
}

/** Probability that the true value is at or below h and the measured one inside a range. */
function below(h: Bound, { from, to }: Range, correlation: number): number {
  return Math.max(0, bivariateBelow(h, to, correlation) - bivariateBelow(h, from, correlation));
}

const mirrored = ({ from, to }: Range): Range => ({
  from: mirroredBound(to),
  to: mirroredBound(from),
});

/**
 * Global risks of a decision rule for a normal process, in closed form.
 *
 * Formula: true value X and measured value Y are bivariate normal with correlation
 * s/√(s² + u²), s the standard deviation of the process, u the measuring uncertainty. Consumer's
 * risk P(X outside the limits, Y accepted) as a sum of `bivariateNormal`; producer's risk
 * P(X inside, Y not accepted) = P(X inside) − P(Y accepted) + consumer's risk.
 *
 * @param options process with standard deviation above 0; measuring standard uncertainty above 0;
 *   limits of what conforms and of what is accepted, one or two each, lower below upper
 * @returns probabilities in [0, 1], not rounded
 * @throws DomainError for a value outside its range
 * Validity: process and measuring error normal and independent; absolute accuracy 1e-14. Agrees
 * with the quadrature of `globalRisk` and with simulation: laws/conformity.
 * Source: JCGM 106:2012, 9.5 and Annex A.4
 * @example normalGlobalRisk({ process: { mean: 1500, standardDeviation: 0.12 },
 *   measuringStandardUncertainty: 0.04, limits: { lower: 1499.8, upper: 1500.2 },
 *   acceptance: { lower: 1499.8, upper: 1500.2 } }).consumerRisk // 0.01894
 */
export function normalGlobalRisk(options: {
  readonly process: NormalProcess;
  readonly measuringStandardUncertainty: number;
  readonly limits: Interval;
  readonly acceptance: Interval;
}): AcceptanceRisk {
  const { process, measuringStandardUncertainty: u } = options;
  const { mean, standardDeviation: s } = process;
  requireDomain(s > 0 && Number.isFinite(s), {
    field: 'standardDeviation',
    value: s,
    accepted: 'a standard deviation above 0',
  });
  requireDomain(u > 0 && Number.isFinite(u), {
    field: 'measuringStandardUncertainty',
    value: u,
    accepted: 'a standard uncertainty above 0',
  });
  const total = Math.hypot(s, u);
  const standard = ({ lower, upper }: Interval, scale: number, field: string): Range => {
    const from = lower === undefined ? Number.NEGATIVE_INFINITY : (lower - mean) / scale;
    const to = upper === undefined ? Number.POSITIVE_INFINITY : (upper - mean) / scale;
    if (!(from < to)) {
      const accepted = 'a lower limit below the upper limit';
      throw new DomainError({ field, value: `${lower} to ${upper}`, accepted });
    }
    return { from: bound(from), to: bound(to) };
  };
  const truth = standard(options.limits, s, 'limits');
  const measured = standard(options.acceptance, total, 'acceptance');
  const correlation = s / total;
  const processConformance = between(truth);
  const acceptedShare = between(measured);
  // Each side is counted from its own tail, so that small risks are no differences of large ones.
  const consumerRisk =
    below(truth.from, measured, correlation) +
    below(mirroredBound(truth.to), mirrored(measured), correlation);
  // What conforms is accepted or refused, and what is accepted conforms or does not.
  const producerRisk = Math.max(0, processConformance - acceptedShare + consumerRisk);
  return { processConformance, acceptedShare, consumerRisk, producerRisk };
}

/**
 * What is known of an item of a normal process after it has been measured.
 *
 * Formula: 1/v = 1/s² + 1/u², mean v·(m/s² + y/u²), standard deviation √v; m and s mean and standard
 * deviation of the process, y the measured value, u its standard uncertainty.
 *
 * @param process standard deviation above 0
 * @param value measured value
 * @param measuringStandardUncertainty above 0
 * @returns mean and standard deviation of the true value, in the unit of the value
 * Validity: process and measuring error normal and independent.
 * Source: JCGM 106:2012, 6.3 and Annex C
 * @example measuredItem({ mean: 0, standardDeviation: 1 }, 1, 1).mean // 0.5
 */
export function measuredItem(
  process: NormalProcess,
  value: number,
  measuringStandardUncertainty: number,
): NormalProcess {
  const s2 = process.standardDeviation ** 2;
  const u2 = measuringStandardUncertainty ** 2;
  return {
    mean: process.mean + ((value - process.mean) * s2) / (s2 + u2),
    standardDeviation:
      (process.standardDeviation * measuringStandardUncertainty) / Math.sqrt(s2 + u2),
  };
}
