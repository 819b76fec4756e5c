import { requireDomain } from '../quantity/domain.ts';
import { normalDensity, normalDistribution } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** What is known of the process before an item is measured. */
export type ProcessDistribution =
  | { readonly kind: 'normal'; readonly mean: number; readonly standardDeviation: number }
  /** Gamma distribution for a positive quantity: density proportional to x^(shape−1)·e^(−rate·x). */
  | { readonly kind: 'gamma'; readonly shape: number; readonly rate: number };

/** Lower and upper ends; an end that is absent is infinitely far away. */
export interface Interval {
  readonly lower?: number;
  readonly upper?: number;
}

export interface GlobalRisk {
  /** Probability that an item of the process conforms. */
  readonly processConformance: number;
  /** Probability that an item does not conform and is accepted. */
  readonly consumerRisk: number;
  /** Probability that an item conforms and is rejected. */
  readonly producerRisk: number;
}

// Nodes and weights of the Gauss-Legendre rule of five points; Abramowitz and Stegun (1964),
// Table 25.4.
const gaussNodes = [
  [0, 0.568888888888889],
  [0.538469310105683, 0.478628670499366],
  [-0.538469310105683, 0.478628670499366],
  [0.906179845938664, 0.236926885056189],
  [-0.906179845938664, 0.236926885056189],
] as const;

/** Integral of a smooth function over a finite interval, in panels of five points. */
function integrate(f: (x: number) => number, from: number, to: number, panels: number): number {
  if (!(to > from)) return 0;
  const half = (to - from) / (2 * panels);
  const terms: number[] = [];
  for (let panel = 0; panel < panels; panel += 1) {
    const middle = from + (2 * panel + 1) * half;
    for (const [node, weight] of gaussNodes) terms.push(weight * half * f(middle + node * half));
  }
  return compensatedSum(terms);
}

/** Logarithm of the gamma function by Stirling's series, shifted up to 10 where it is accurate. */
function logGamma(x: number): number {
  let shift = 0;
  let y = x;
  while (y < 10) {
    shift += Math.log(y);
    y += 1;
  }
  const series = 1 / (12 * y) - 1 / (360 * y ** 3) + 1 / (1260 * y ** 5) - 1 / (1680 * y ** 7);
  return (y - 0.5) * Math.log(y) - y + 0.5 * Math.log(2 * Math.PI) + series - shift;
}

/** Density of the process and an interval that holds all but a negligible part of it. */
function densityOf(process: ProcessDistribution): {
  readonly density: (x: number) => number;
  readonly from: number;
  readonly to: number;
} {
  if (process.kind === 'normal') {
    const { mean, standardDeviation } = process;
    const reach = 12 * standardDeviation;
    const density = (x: number) => normalDensity(x, mean, standardDeviation);
    return { density, from: mean - reach, to: mean + reach };
  }
  const { shape, rate } = process;
  requireDomain(shape >= 1 && Number.isFinite(shape), {
    field: 'shape',
    value: shape,
    accepted: 'a shape of 1 or more',
  });
  requireDomain(rate > 0 && Number.isFinite(rate), {
    field: 'rate',
    value: rate,
    accepted: 'a rate above 0',
  });
  const logFactor = shape * Math.log(rate) - logGamma(shape);
  const density = (x: number) => Math.exp(logFactor + (shape - 1) * Math.log(x) - rate * x);
  return { density, from: 0, to: (shape + 12 * Math.sqrt(shape) + 60) / rate };
}

/**
 * Global risks of a decision rule: how often, over the whole production, a bad item is accepted or
 * a good one rejected.
 *
 * Formula: consumer's risk = ∫ outside the limits of g(x)·P(accept | x) dx; producer's risk =
 * ∫ inside the limits of g(x)·P(reject | x) dx; g the density of the process, P(accept | x) the
 * probability that a normal measuring error carries x into the acceptance interval.
 *
 * @param options process distribution; measuring standard uncertainty above 0; limits of what
 *   conforms and of what is accepted, lower below upper, all in one unit
 * @returns probabilities in [0, 1], not rounded
 * @throws DomainError when a value is outside its range
 * Validity: measuring error normal and independent of the item. Absolute accuracy 1e-9 where the
 * measuring uncertainty is at least 1/500 of the spread of the process. See reference/conformity.
 * Source: JCGM 106:2012, 9.5
 * @example globalRisk({ process: { kind: 'normal', mean: 1500, standardDeviation: 0.12 },
 *   measuringStandardUncertainty: 0.04, limits: { lower: 1499.8, upper: 1500.2 },
 *   acceptance: { lower: 1499.8, upper: 1500.2 } }).consumerRisk // 0.01894
 */
export function globalRisk(options: {
  readonly process: ProcessDistribution;
  readonly measuringStandardUncertainty: number;
  readonly limits: Interval;
  readonly acceptance: Interval;
}): GlobalRisk {
  const { process, measuringStandardUncertainty: u, limits, acceptance } = options;
  const { density, from, to } = densityOf(process);
  const accepted = (x: number) =>
    (acceptance.upper === undefined ? 1 : normalDistribution(acceptance.upper, x, u)) -
    (acceptance.lower === undefined ? 0 : normalDistribution(acceptance.lower, x, u));
  const lower = Math.max(from, limits.lower ?? from);
  const upper = Math.min(to, limits.upper ?? to);
  requireDomain(lower < upper, {
    field: 'limits',
    value: `${limits.lower} to ${limits.upper}`,
    accepted: 'limits that enclose a part of the process',
  });
  const panels = 2000;
  const consumer = (x: number) => density(x) * accepted(x);
  return {
    processConformance: integrate(density, lower, upper, panels),
    consumerRisk: integrate(consumer, from, lower, panels) + integrate(consumer, upper, to, panels),
    producerRisk: integrate((x) => density(x) * (1 - accepted(x)), lower, upper, panels),
  };
}
