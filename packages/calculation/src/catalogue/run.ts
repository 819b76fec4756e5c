import type { z } from 'zod';
import { DomainError } from '../quantity/domain.ts';
import type { Calculation } from './calculation.ts';
import { wordsInPrint } from './words-in-print.ts';

/** One reason why an input was not accepted. */
export interface InputProblem {
  /** Path of the field in the input, joined by dots; empty for the input as a whole. */
  readonly field: string;
  readonly value: unknown;
  readonly accepted: string;
}

export type CalculationResult<Output = unknown> =
  | {
      readonly outcome: 'computed';
      readonly id: string;
      readonly version: number;
      readonly output: Output;
    }
  | {
      readonly outcome: 'refused';
      readonly id: string;
      readonly problems: readonly InputProblem[];
    };

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
 * Every problem that a schema found in an input, each with the path of its field, the value that
 * stands there and what would be accepted. A field that the schema does not know is a problem of its own.
 */
export function problemsOf(error: z.ZodError, input: unknown): readonly InputProblem[] {
  return error.issues.flatMap((issue) => {
    const paths =
      issue.code === 'unrecognized_keys'
        ? issue.keys.map((key) => [...issue.path, key])
        : [issue.path];
    const accepted = issue.code === 'unrecognized_keys' ? 'no field of this name' : issue.message;
    return paths.map((path) => ({
      field: path.map(String).join('.'),
      value: valueAt(input, path),
      accepted,
    }));
  });
}

/** Whether every number inside a value is finite: readings of absurd size can overflow a double. */
function isFiniteThroughout(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null) return true;
  return Object.values(value).every(isFiniteThroughout);
}

/** The answer to an input that a schema or the calculation itself does not accept. */
function refused(id: string, problems: readonly InputProblem[]): CalculationResult {
  return { outcome: 'refused', id, problems };
}

function* stepsOf(calculation: Calculation, input: unknown): Generator<number, unknown> {
  if (calculation.steps) return yield* calculation.steps(input);
  return calculation.compute(input);
}

/**
 * Runs a calculation on an input of unknown shape, yielding the part of the work that is done.
 * Bad input is answered with every problem found, each with its field, its value and what would be
 * accepted; nothing is coerced.
 */
export function* runCalculationInSteps(
  calculation: Calculation,
  input: unknown,
): Generator<number, CalculationResult> {
  const { id, version } = calculation;
  const parsed = calculation.input.safeParse(input);
  if (!parsed.success) return refused(id, problemsOf(parsed.error, input));
  try {
    const output = wordsInPrint(yield* stepsOf(calculation, parsed.data));
    if (isFiniteThroughout(output)) return { outcome: 'computed', id, version, output };
    const accepted = 'values of a size that leads to finite results';
    return refused(id, [{ field: '', value: 'this input', accepted }]);
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    const { field, value, accepted } = error;
    return refused(id, [{ field, value, accepted }]);
  }
}

/** Runs a calculation to its end: see `runCalculationInSteps`. */
export function runCalculation(calculation: Calculation, input: unknown): CalculationResult {
  const steps = runCalculationInSteps(calculation, input);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}
