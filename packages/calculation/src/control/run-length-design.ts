import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import {
  type ChartSides,
  type CusumDesign,
  cusumAverageRunLength,
  greatestDecisionInterval,
  type StartingState,
} from './cusum-run-length.ts';
import { type EwmaDesign, ewmaAverageRunLength } from './ewma-run-length.ts';
import { runRulesAverageRunLengths } from './run-rule-chain.ts';
import type { RunRule } from './run-rules.ts';

/** A chart of the plotted values themselves: outer limits, and run rules where there are any. */
export interface ShewhartDesign {
  readonly limitFactor: number;
  readonly sides: ChartSides;
  /** Rules of zones and sides; the outer limits belong to every chart. */
  readonly rules: readonly RunRule[];
}

/**
 * Average number of plotted values until a Shewhart chart signals.
 *
 * Formula: 1/p, p = Φ(μ − L) + Φ(−μ − L), the first term alone for one side; with run rules by the
 * chain of `runRulesAverageRunLengths`.
 *
 * @param options limit factor L, above 0 to 6 (above 2 with run rules); sides; run rules, none for
 *   one side
 * @param shift mean from the centre line in standard deviations of a plotted value, -10 to 10
 * @param state matters only where run rules remember the past
 * @returns average run length in plotted values, 1 or more, not rounded
 * @throws DomainError for a value outside its range, a rule of trend or zigzag, or rules on one side
 * Validity: independent normal values, centre line and limits known; exact without run rules.
 * See reference/average-run-length.
 * Source: W. A. Shewhart (1931), Economic Control of Quality; with rules as `runRulesAverageRunLengths`
 * @example shewhartAverageRunLength({ limitFactor: 3, sides: 'two', rules: [] }, 0) // 370.398
 */
export function shewhartAverageRunLength(
  options: ShewhartDesign,
  shift: number,
  state: StartingState = 'zero',
): number {
  return shewhartAverageRunLengths(options, [shift], state)[0] as number;
}

/**
 * The same for several shifts of one chart, cheaper than one by one where there are run rules.
 *
 * @param options as `shewhartAverageRunLength`
 * @param shifts each as there
 * @param state as there
 * @returns average run lengths in the order of the shifts
 * @throws DomainError for a value outside its range, a rule of trend or zigzag, or rules on one side
 * Validity: as `shewhartAverageRunLength`.
 * Source: as `shewhartAverageRunLength`
 * @example shewhartAverageRunLengths({ limitFactor: 3, sides: 'two', rules: [] }, [0, 1], 'zero')[1] // 43.895
 */
export function shewhartAverageRunLengths(
  options: ShewhartDesign,
  shifts: readonly number[],
  state: StartingState,
): number[] {
  requireShewhart(options, shifts);
  const { limitFactor, sides, rules } = options;
  if (rules.length > 0) {
    const withLimits: RunRule[] = ['western-electric-1', ...rules];
    return runRulesAverageRunLengths({ rules: withLimits, limitFactor, shifts, state });
  }
  return shifts.map((shift) => {
    const above = normalDistribution(shift - limitFactor, 0, 1);
    return 1 / (sides === 'one' ? above : above + normalDistribution(-shift - limitFactor, 0, 1));
  });
}

function requireShewhart(options: ShewhartDesign, shifts: readonly number[]): void {
  const { limitFactor, sides, rules } = options;
  requireDomain(limitFactor > 0 && limitFactor <= 6, {
    field: 'limitFactor',
    value: limitFactor,
    accepted: 'a number above 0 and up to 6',
  });
  requireDomain(rules.length === 0 || sides === 'two', {
    field: 'rules',
    value: rules.join(', '),
    accepted: 'no run rules on a one-sided chart: they watch both sides',
  });
  for (const shift of shifts) {
    requireDomain(Math.abs(shift) <= 10, {
      field: 'shift',
      value: shift,
      accepted: 'a shift from -10 to 10 standard deviations',
    });
  }
}

/** The limit is found when its bracket is this narrow. */
const limitTolerance = 1e-10;

/** Root of a rising function between two ends by the regula falsi of Illinois. */
function risingRoot(excess: (x: number) => number, lower: number, upper: number): number {
  let [left, right] = [lower, upper];
  let [below, above] = [excess(left), excess(right)];
  let side = 0;
  let x = right;
  for (let step = 0; step < 100 && right - left > limitTolerance; step += 1) {
    x = (left * above - right * below) / (above - below);
    const here = excess(x);
    if (here === 0) return x;
    if (here < 0) {
      left = x;
      below = here;
      if (side < 0) above /= 2;
      side = -1;
    } else {
      right = x;
      above = here;
      if (side > 0) below /= 2;
      side = 1;
    }
    if (Math.abs(here) < 1e-13) return x;
  }
  return x;
}

/**
 * The limit of a chart at which its average run length in control is the one wanted.
 *
 * Formula: root of ln L(limit) − ln(wanted); the upper end is doubled until it is reached.
 *
 * @param runLengthOf average run length in control at a limit; it rises with the limit
 * @param wanted average run length in control, above 1
 * @param range least limit and greatest limit
 * @returns the limit, within about 1e-9
 * @throws DomainError when no limit in the range gives that run length, naming what can be reached
 * Validity: any chart whose run length rises with its limit.
 * Source: root finding by the regula falsi of Illinois, common practice
 * @example limitForRunLength((limit) => shewhartAverageRunLength(
 *   { limitFactor: limit, sides: 'two', rules: [] }, 0), 370.3983473449, [0.1, 6]) // 3.0000000
 */
export function limitForRunLength(
  runLengthOf: (limit: number) => number,
  wanted: number,
  range: readonly [number, number],
): number {
  const [least, greatest] = range;
  const excess = (limit: number): number => Math.log(runLengthOf(limit) / wanted);
  const shortest = runLengthOf(least);
  requireDomain(wanted >= shortest, {
    field: 'inControlRunLength',
    value: wanted,
    accepted: `a run length of ${shortest.toPrecision(4)} or more for this chart`,
  });
  let upper = Math.min(greatest, Math.max(2 * least, 1));
  while (upper < greatest && excess(upper) < 0) upper = Math.min(greatest, upper * 1.5);
  const longest = runLengthOf(upper);
  requireDomain(longest >= wanted, {
    field: 'inControlRunLength',
    value: wanted,
    accepted: `a run length up to ${longest.toPrecision(4)} for this chart`,
  });
  return risingRoot(excess, least, upper);
}

/**
 * Decision interval of a cumulative sum chart for a wanted average run length in control.
 *
 * Formula: see `limitForRunLength`; the headstart is a fraction of the interval.
 *
 * @param options reference value, sides, headstart as a fraction of the interval (absent 0)
 * @param inControlRunLength wanted, above 1 to 1e7
 * @returns decision interval in standard deviations of a plotted value
 * @throws DomainError when no interval up to 60 gives that run length
 * Validity: as `cusumAverageRunLength`. See reference/average-run-length.
 * Source: as `cusumAverageRunLength`
 * @example cusumDecisionInterval({ referenceValue: 0.5, sides: 'two' }, 500) // 5.0707
 */
export function cusumDecisionInterval(
  options: Pick<CusumDesign, 'referenceValue' | 'sides'> & { readonly headstartFraction?: number },
  inControlRunLength: number,
): number {
  const { referenceValue, sides, headstartFraction = 0 } = options;
  const runLengthOf = (decisionInterval: number) =>
    cusumAverageRunLength(
      { referenceValue, sides, decisionInterval, headstart: headstartFraction * decisionInterval },
      0,
    );
  return limitForRunLength(runLengthOf, inControlRunLength, [0.01, greatestDecisionInterval]);
}

/**
 * Limit factor of a chart of weighted averages for a wanted average run length in control.
 *
 * @param options smoothing and sides
 * @param inControlRunLength wanted, above 1 to 1e7
 * @returns limit factor in standard deviations of the average in the long run
 * @throws DomainError when no factor up to 6 gives that run length
 * Validity: as `ewmaAverageRunLength`. See reference/average-run-length.
 * Source: as `ewmaAverageRunLength`
 * @example ewmaLimitFactor({ smoothing: 0.5, sides: 'two' }, 500) // 3.07106
 */
export function ewmaLimitFactor(
  options: Pick<EwmaDesign, 'smoothing' | 'sides'>,
  inControlRunLength: number,
): number {
  const runLengthOf = (limitFactor: number) => ewmaAverageRunLength({ ...options, limitFactor }, 0);
  return limitForRunLength(runLengthOf, inControlRunLength, [0.05, 6]);
}

/**
 * Limit factor of a Shewhart chart for a wanted average run length in control: a probability limit
 * where there are no run rules.
 *
 * Formula: −z(p) with p = 1/L, half of it on each of two sides; with run rules `limitForRunLength`.
 *
 * @param options sides and run rules
 * @param inControlRunLength wanted, 2 to 1e7
 * @returns limit factor in standard deviations of a plotted value
 * @throws DomainError when the rules alone signal more often than wanted
 * Validity: as `shewhartAverageRunLength`.
 * Source: as `shewhartAverageRunLength`
 * @example shewhartLimitFactor({ sides: 'two', rules: [] }, 500) // 3.0902
 */
export function shewhartLimitFactor(
  options: Pick<ShewhartDesign, 'sides' | 'rules'>,
  inControlRunLength: number,
): number {
  const { sides, rules } = options;
  if (rules.length === 0) {
    return -normalQuantile(1 / inControlRunLength / (sides === 'two' ? 2 : 1));
  }
  const runLengthOf = (limitFactor: number) =>
    shewhartAverageRunLength({ limitFactor, sides, rules }, 0);
  return limitForRunLength(runLengthOf, inControlRunLength, [2.001, 6]);
}
