import { calculationById, runCalculation } from '@cupel/calculation';
import type { Json } from '../../ports/json.ts';
import {
  type MeltUncertaintyInput,
  meltUncertainty,
  meltUncertaintyVersion,
} from '../laboratory/index.ts';

/** A calculation done once more, or why it cannot be done. */
export type Recomputed =
  | { readonly version: number; readonly output: Json }
  | { readonly problem: string };

/** Name under which a certificate keeps the uncertainty of a melt, which is the laboratory's own. */
export const meltUncertaintyName = 'melt-uncertainty';

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

function recomputeMeltUncertainty(input: unknown): Recomputed {
  try {
    const output = meltUncertainty(input as MeltUncertaintyInput);
    return { version: meltUncertaintyVersion, output: asJson(output) };
  } catch (error) {
    return { problem: `its input is refused: ${(error as Error).message}` };
  }
}

function recomputeOfCatalogue(calculation: string, input: unknown): Recomputed {
  const result = runCalculation(calculationById(calculation), input);
  if (result.outcome === 'computed') {
    return { version: result.version, output: asJson(result.output) };
  }
  const [problem] = result.problems;
  return {
    problem: `its input is refused: ${problem?.field} is ${String(problem?.value)}; accepted: ${problem?.accepted}`,
  };
}

/** Does a calculation of a certificate once more from its input. */
export function recompute(calculation: string, input: unknown): Recomputed {
  if (calculation === meltUncertaintyName) return recomputeMeltUncertainty(input);
  try {
    return recomputeOfCatalogue(calculation, input);
  } catch {
    return { problem: `this program does not know the calculation ${calculation}` };
  }
}
