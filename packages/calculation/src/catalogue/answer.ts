import type { Calculation, Chart, LimitRule } from './calculation.ts';
import { type CalculationResult, runCalculationInSteps } from './run.ts';

/** A result with what is drawn of it, or the problems; every part of it can be sent as JSON. */
export type CalculationAnswer =
  | (Extract<CalculationResult, { outcome: 'computed' }> & {
      readonly drawings: readonly (Chart | LimitRule)[];
    })
  | Extract<CalculationResult, { outcome: 'refused' }>;

/** A value as JSON can carry it: what JSON has no word for becomes text, nothing becomes null. */
function sendableValue(value: unknown): unknown {
  if (value === undefined) return null;
  return typeof value === 'bigint' ? String(value) : value;
}

/** Runs a calculation, yielding the part done, and draws what it gave. */
export function* answerInSteps(
  calculation: Calculation,
  input: unknown,
): Generator<number, CalculationAnswer> {
  const result = yield* runCalculationInSteps(calculation, input);
  if (result.outcome === 'computed') {
    const parsed = calculation.input.parse(input);
    return { ...result, drawings: calculation.draw?.(parsed, result.output) ?? [] };
  }
  const problems = result.problems.map((problem) => ({
    ...problem,
    value: sendableValue(problem.value),
  }));
  return { ...result, problems };
}
