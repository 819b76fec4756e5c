import type { Calculation } from './calculation.ts';
import { DomainError } from '../quantity/domain.ts';

/** One reason why an input was not accepted. */
export interface InputProblem {
  /** Path of the field in the input, joined by dots; empty for the input as a whole. */
  readonly field: string;
  readonly value: unknown;
  readonly accepted: string;
}

export type CalculationResult<Output = unknown> =
  | { readonly outcome: 'computed'; readonly id: string; readonly version: number; readonly output: Output }
  | { readonly outcome: 'refused'; readonly id: string; readonly problems: readonly InputProblem[] };

/** The value that stands at a path inside an input. */
function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = input;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/**
 * Runs a calculation on an input of unknown shape. Bad input is answered with every problem found,
 * each with its field, its value and what would be accepted; nothing is coerced.
 */
export function runCalculation(calculation: Calculation, input: unknown): CalculationResult {
  const parsed = calculation.input.safeParse(input);
  if (!parsed.success) {
    const problems = parsed.error.issues.map((issue) => ({
      field: issue.path.map(String).join('.'),
      value: valueAt(input, issue.path),
      accepted: issue.message,
    }));
    return { outcome: 'refused', id: calculation.id, problems };
  }
  try {
    const output = calculation.compute(parsed.data);
    return { outcome: 'computed', id: calculation.id, version: calculation.version, output };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    const { field, value, accepted } = error;
    return { outcome: 'refused', id: calculation.id, problems: [{ field, value, accepted }] };
  }
}
