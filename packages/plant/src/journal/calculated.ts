import { calculationById, runCalculation } from '@cupel/calculation';
import { z } from 'zod';
import type { Json, JsonObject } from '../ports/json.ts';
import { Fault } from './fault.ts';

/** A result that anyone can recompute. */
export interface Calculated {
  readonly [field: string]: Json;
  readonly calculation: string;
  readonly version: number;
  readonly input: JsonObject;
  readonly output: JsonObject;
}

/** Schema of a result as records keep it: which calculation, of which version, from what, to what. */
export const calculatedSchema = z.strictObject({
  calculation: z.string().min(1),
  version: z.number().int().min(1),
  input: z.record(z.string(), z.json()),
  output: z.record(z.string(), z.json()),
}) as unknown as z.ZodType<Calculated>;

/**
 * Runs a calculation of the catalogue for the record. Inputs that a rule has checked cannot be
 * refused by the calculation; if they are, that is a fault of the rule.
 */
export function calculate<Output extends object>(
  id: string,
  input: object,
): { readonly calculated: Calculated; readonly output: Output } {
  const result = runCalculation(calculationById(id), input);
  if (result.outcome === 'refused') {
    const [problem] = result.problems;
    throw new Fault(
      `${id} refuses ${problem?.field}: ${String(problem?.value)}; ${problem?.accepted}`,
    );
  }
  const calculated = {
    calculation: id,
    version: result.version,
    input: input as JsonObject,
    output: result.output as JsonObject,
  };
  return { calculated, output: result.output as Output };
}
