import { requireDomain } from '../quantity/domain.ts';
import { cusumKernel, runLengthsOfKernel } from './run-length-kernel.ts';

/** Whether a chart looks for shifts upwards only, or both ways. */
export type ChartSides = 'one' | 'two';

/** How a chart stands when the shift comes: just started, or long running without a signal. */
export type StartingState = 'zero' | 'steady';

/** A cumulative sum chart in units of the standard deviation of a plotted value. */
export interface CusumDesign {
  readonly referenceValue: number;
  readonly decisionInterval: number;
  /** Where the sums start; 0 when absent. */
  readonly headstart?: number;
  readonly sides: ChartSides;
}

export const greatestDecisionInterval = 60;

export function requireCusum(design: CusumDesign, shift: number): void {
  const { referenceValue: k, decisionInterval: h, headstart = 0 } = design;
  requireDomain(k >= 0 && k <= 10, {
    field: 'referenceValue',
    value: k,
    accepted: 'a number from 0 to 10 standard deviations',
  });
  requireDomain(h > 0 && h <= greatestDecisionInterval, {
    field: 'decisionInterval',
    value: h,
    accepted: `a number above 0 and up to ${greatestDecisionInterval} standard deviations`,
  });
  requireDomain(headstart >= 0 && headstart <= h, {
    field: 'headstart',
    value: headstart,
    accepted: `a number from 0 to the decision interval ${h}`,
  });
  requireDomain(Math.abs(shift) <= 10, {
    field: 'shift',
    value: shift,
    accepted: 'a shift from -10 to 10 standard deviations',
  });
}

/** Average run lengths of one arm: from 0, and from the state in question. */
export interface ArmRunLengths {
  readonly fromZero: number;
  readonly fromStart: number;
}

/**
 * Average run length of two arms that watch the same readings in opposite directions. When one
 * signals the other stands at 0, so that the run lengths of the single arms suffice.
 */
export function combineArms(upper: ArmRunLengths, lower: ArmRunLengths): number {
  const both = upper.fromZero * lower.fromZero;
  const numerator = upper.fromStart * lower.fromZero + lower.fromStart * upper.fromZero - both;
  return numerator / (upper.fromZero + lower.fromZero);
}

/**
 * Average number of readings until a cumulative sum chart (Page's test) signals, by the integral
 * equation. It says how often a chart cries wolf and how fast it finds a shift or a slow loss.
 *
 * Formula: one arm, L(s) = 1 + L(0)·Φ(k − s − μ) + ∫₀ʰ L(x)·φ(x + k − s − μ) dx, solved at the nodes
 * of Gauss and Legendre. Two arms, L = (L₊(s)·L₋(0) + L₋(s)·L₊(0) − L₊(0)·L₋(0))/(L₊(0) + L₋(0)), which
 * is 1/(1/L₊ + 1/L₋) without headstart. In the steady state L(s) is averaged over the distribution
 * that the sum takes when it has long run in control without a signal, each arm for itself.
 *
 * @param options reference value k, 0 to 10; decision interval h, above 0 to 60; headstart from 0 to
 *   h (absent 0); sides; all in standard deviations of a plotted value
 * @param shift mean of the readings from the target in standard deviations, -10 to 10; a one-sided
 *   chart looks upwards
 * @param state 'zero': the chart starts with the shift; 'steady': it has run long before it
 * @returns average run length in plotted values, 1 or more, not rounded; beyond 1e12 without meaning
 * @throws DomainError for a value outside its range
 * Validity: independent normal readings with known standard deviation. Relative accuracy about
 * 1e-9 up to a run length of 1e6. Two arms with a headstart above h/2 + k, and the steady state of two
 * arms, are approximations good to about one per cent. See reference/average-run-length.
 * Source: E. S. Page (1954), Biometrika 41, 100-115; A. L. Goel and S. M. Wu (1971), Technometrics
 * 13, 221-230; J. M. Lucas and R. B. Crosier (1982), Technometrics 24, 199-205
 * @example cusumAverageRunLength({ referenceValue: 0.5, decisionInterval: 4, sides: 'two' }, 0) // 167.68
 */
export function cusumAverageRunLength(
  options: CusumDesign,
  shift: number,
  state: StartingState = 'zero',
): number {
  return cusumAverageRunLengths(options, [shift], state)[0] as number;
}

/**
 * The same for several shifts of one chart, cheaper than one by one.
 *
 * @param options as `cusumAverageRunLength`
 * @param shifts each as there
 * @param state as there
 * @returns average run lengths in the order of the shifts
 * @throws DomainError for a value outside its range
 * Validity: as `cusumAverageRunLength`.
 * Source: as `cusumAverageRunLength`
 * @example cusumAverageRunLengths({ referenceValue: 0.5, decisionInterval: 5, sides: 'one' }, [0, 1], 'zero')[1] // 10.4
 */
export function cusumAverageRunLengths(
  options: CusumDesign,
  shifts: readonly number[],
  state: StartingState,
): number[] {
  for (const shift of shifts) requireCusum(options, shift);
  const { referenceValue, decisionInterval, headstart = 0, sides } = options;
  const kernel = cusumKernel(referenceValue, decisionInterval);
  const start = state === 'steady' ? 'settled' : headstart;
  const upper = runLengthsOfKernel(kernel, shifts, start);
  if (sides === 'one') return upper.map((arm) => arm.fromStart);
  const mirrored = shifts.map((shift) => -shift);
  const lower = runLengthsOfKernel(kernel, mirrored, start);
  return upper.map((arm, index) => combineArms(arm, lower[index] as ArmRunLengths));
}
