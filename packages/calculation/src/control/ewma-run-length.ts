import { requireDomain } from '../quantity/domain.ts';
import type { ChartSides, StartingState } from './cusum-run-length.ts';
import { ewmaKernel, runLengthsOfKernel } from './run-length-kernel.ts';

/** A chart of exponentially weighted averages in units of the standard deviation of a plotted value. */
export interface EwmaDesign {
  readonly smoothing: number;
  /** Limits in standard deviations of the average in the long run. */
  readonly limitFactor: number;
  readonly sides: ChartSides;
}

/** Standard deviation of the average in the long run, for readings of standard deviation 1. */
export function settledEwmaDeviation(smoothing: number): number {
  return Math.sqrt(smoothing / (2 - smoothing));
}

export function requireEwma(design: EwmaDesign, shift: number): void {
  requireDomain(design.smoothing >= 0.005 && design.smoothing <= 1, {
    field: 'smoothing',
    value: design.smoothing,
    accepted: 'a number from 0.005 to 1',
  });
  requireDomain(design.limitFactor > 0 && design.limitFactor <= 6, {
    field: 'limitFactor',
    value: design.limitFactor,
    accepted: 'a number above 0 and up to 6',
  });
  requireDomain(Math.abs(shift) <= 10, {
    field: 'shift',
    value: shift,
    accepted: 'a shift from -10 to 10 standard deviations',
  });
}

/**
 * Average number of readings until a chart of exponentially weighted averages signals, by the
 * integral equation.
 *
 * Formula: two-sided, L(z) = 1 + (1/λ)·∫ L(y)·φ((y − (1 − λ)z)/λ − μ) dy between the limits
 * ±L·√(λ/(2 − λ)), at z = 0; one-sided, the average never falls below 0 and L(0)·Φ(−(1 − λ)z/λ − μ) joins.
 * Solved at the nodes of Gauss and Legendre. In the steady state L(z) is averaged over the
 * distribution of an average that has long run in control without a signal.
 *
 * @param options smoothing λ, 0.005 to 1; limit factor, above 0 to 6; sides
 * @param shift mean of the readings from the target in standard deviations, -10 to 10; a one-sided
 *   chart looks upwards
 * @param state 'zero': the chart starts with the shift; 'steady': it has run long before it
 * @returns average run length in plotted values, 1 or more, not rounded; beyond 1e12 without meaning
 * @throws DomainError for a value outside its range
 * Validity: independent normal readings with known standard deviation, limits of the long run.
 * Relative accuracy about 1e-9 up to a run length of 1e6. See reference/average-run-length.
 * Source: S. V. Crowder (1987), Technometrics 29, 401-407; J. M. Lucas and M. S. Saccucci (1990),
 * Technometrics 32, 1-12
 * @example ewmaAverageRunLength({ smoothing: 0.5, limitFactor: 3.071, sides: 'two' }, 0) // 499.9
 */
export function ewmaAverageRunLength(
  options: EwmaDesign,
  shift: number,
  state: StartingState = 'zero',
): number {
  return ewmaAverageRunLengths(options, [shift], state)[0] as number;
}

/**
 * The same for several shifts of one chart, cheaper than one by one.
 *
 * @param options as `ewmaAverageRunLength`
 * @param shifts each as there
 * @param state as there
 * @returns average run lengths in the order of the shifts
 * @throws DomainError for a value outside its range
 * Validity: as `ewmaAverageRunLength`.
 * Source: as `ewmaAverageRunLength`
 * @example ewmaAverageRunLengths({ smoothing: 0.5, limitFactor: 3.071, sides: 'two' }, [0, 1], 'zero')[1] // 17.48
 */
export function ewmaAverageRunLengths(
  options: EwmaDesign,
  shifts: readonly number[],
  state: StartingState,
): number[] {
  for (const shift of shifts) requireEwma(options, shift);
  const limit = options.limitFactor * settledEwmaDeviation(options.smoothing);
  const kernel = ewmaKernel(options.smoothing, limit, options.sides === 'one');
  const start = state === 'steady' ? 'settled' : 0;
  return runLengthsOfKernel(kernel, shifts, start).map((one) => one.fromStart);
}
