import { gaussLegendre } from '../quantity/gauss-legendre.ts';
import { normalDensity } from '../quantity/normal.ts';
import { conformanceProbability } from './conformance-probability.ts';
import { globalRisk, type Interval, type ProcessDistribution } from './global-risk.ts';
import { type AcceptanceRisk, measuredItem, normalGlobalRisk } from './normal-global-risk.ts';

const rule = gaussLegendre(40, -1, 1);
const panels = 60;

/** Standard deviations about the measured value beyond which the measuring error is negligible. */
const reach = 12;

/**
 * Global risks for any process that is offered: in closed form for a normal one, by quadrature for
 * a gamma one.
 *
 * @param options as for `globalRisk`
 * @returns probabilities in [0, 1], not rounded
 * @throws DomainError as `globalRisk` and `normalGlobalRisk`
 * Validity: as those. Source: JCGM 106:2012, 9.5
 * @example processRisk({ process: { kind: 'normal', mean: 0, standardDeviation: 1 },
 *   measuringStandardUncertainty: 1, limits: { lower: 0 }, acceptance: { lower: 0 } }).consumerRisk
 *   // 0.125
 */
export function processRisk(options: {
  readonly process: ProcessDistribution;
  readonly measuringStandardUncertainty: number;
  readonly limits: Interval;
  readonly acceptance: Interval;
}): AcceptanceRisk {
  const { process } = options;
  if (process.kind === 'normal') return normalGlobalRisk({ ...options, process });
  const risk = globalRisk(options);
  const acceptedShare = risk.processConformance - risk.producerRisk + risk.consumerRisk;
  return { ...risk, acceptedShare: Math.min(1, Math.max(0, acceptedShare)) };
}

/** Integral of the product of a gamma density (without its factor) and the measuring error. */
function gammaWeight(
  process: Extract<ProcessDistribution, { kind: 'gamma' }>,
  value: number,
  u: number,
  from: number,
  to: number,
): number {
  if (!(to > from)) return 0;
  const half = (to - from) / (2 * panels);
  // The density is taken relative to that at its mean, so that it cannot overflow.
  const mean = process.shape / process.rate;
  const logDensity = (x: number) =>
    (process.shape - 1) * Math.log(x / mean) - process.rate * (x - mean);
  let sum = 0;
  for (let panel = 0; panel < panels; panel += 1) {
    const middle = from + (2 * panel + 1) * half;
    rule.nodes.forEach((node, index) => {
      const x = middle + node * half;
      const weight = (rule.weights[index] as number) * half;
      sum += weight * Math.exp(logDensity(x)) * normalDensity(x, value, u);
    });
  }
  return sum;
}

/**
 * Probability that a measured item of a known process conforms.
 *
 * Formula: the part between the limits of the density of the process times that of the measuring
 * error; for a normal process the conformance probability of `measuredItem`.
 *
 * @param process normal or gamma
 * @param value measured value
 * @param measuringStandardUncertainty u, above 0
 * @param limits one or two limits
 * @returns probability in [0, 1], not rounded; null where the process cannot give this value
 * Validity: measuring error normal and independent of the item; for a gamma process relative
 * accuracy about 1e-9.
 * Source: JCGM 106:2012, 6.2 and 7.1
 * @example itemConformance({ kind: 'normal', mean: 0, standardDeviation: 1 }, 0, 1, { lower: 0 })
 *   // 0.5
 */
export function itemConformance(
  process: ProcessDistribution,
  value: number,
  measuringStandardUncertainty: number,
  limits: Interval,
): number | null {
  const u = measuringStandardUncertainty;
  if (process.kind === 'normal') {
    const item = measuredItem(process, value, u);
    return conformanceProbability({
      value: item.mean,
      standardUncertainty: item.standardDeviation,
      lowerLimit: limits.lower,
      upperLimit: limits.upper,
    });
  }
  const from = Math.max(0, value - reach * u);
  const to = value + reach * u;
  const whole = gammaWeight(process, value, u, from, to);
  if (!(whole > 0)) return null;
  const lower = Math.max(from, limits.lower ?? from);
  const upper = Math.min(to, limits.upper ?? to);
  return Math.min(1, gammaWeight(process, value, u, lower, upper) / whole);
}
