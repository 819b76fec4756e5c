import { expect } from 'vitest';

interface Expected {
  readonly name: string;
  readonly value: number;
  readonly tolerance: number;
}

/** A published example with its inputs and the values that are to be reached. */
export interface ReferenceCase {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly Expected[];
}

/** The case of that name. */
export function referenceCase(cases: readonly unknown[], id: string): ReferenceCase {
  const found = (cases as readonly ReferenceCase[]).find((one) => one.id === id);
  if (found === undefined) throw new Error(`no case ${id}`);
  return found;
}

/** A list among the inputs of a case. */
export function valuesOf(one: ReferenceCase, name: string): readonly number[] {
  const { value } = one.inputs[name] as { value: readonly number[] };
  return value;
}

/** Standard errors of a simulated figure that are allowed on top of half a printed unit. */
const allowedStandardErrors = 3.5;

/**
 * Every expected value (or those named) against what was computed, each within its tolerance. A
 * simulated figure has a standard error of its own, which comes on top.
 */
export function expectValues(
  one: ReferenceCase,
  actual: Readonly<Record<string, number>>,
  only?: readonly string[],
  standardErrors: Readonly<Record<string, number>> = {},
): void {
  const expected = one.expected.filter(({ name }) => only?.includes(name) ?? true);
  expect(expected.length).toBe(only?.length ?? one.expected.length);
  for (const { name, value, tolerance } of expected) {
    const found = actual[name];
    if (found === undefined) throw new Error(`${one.id}: nothing computed for ${name}`);
    const allowed = tolerance * (1 + 1e-9) + allowedStandardErrors * (standardErrors[name] ?? 0);
    expect(Math.abs(found - value), `${one.id}: ${name} is ${found}`).toBeLessThanOrEqual(allowed);
  }
}
