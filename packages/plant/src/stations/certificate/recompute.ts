import { calculationById, runCalculation } from '@cupel/calculation';
import type { Json } from '../../ports/json.ts';
import { meltUncertainty, meltUncertaintyInput, meltUncertaintyVersion } from '../laboratory/melt-uncertainty.ts';

/** A calculation done once more, or why it cannot be done. */
export type Recomputed =
  | { readonly version: number; readonly output: Json }
  | { readonly problem: string };

/** Name under which a certificate keeps the uncertainty of a melt, which is the laboratory's own. */
export const meltUncertaintyName = 'melt-uncertainty';

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

function recomputeMeltUncertainty(input: unknown): Recomputed {
  const parsed = meltUncertaintyInput.safeParse(input);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return { problem: `its input is refused: ${issue?.path.join('.')}: ${issue?.message}` };
  }
  return { version: meltUncertaintyVersion, output: asJson(meltUncertainty(parsed.data)) };
}

/** Does a calculation of a certificate once more from its input. */
export function recompute(calculation: string, input: unknown): Recomputed {
  if (calculation === meltUncertaintyName) return recomputeMeltUncertainty(input);
  let result: ReturnType<typeof runCalculation>;
  try {
    result = runCalculation(calculationById(calculation), input);
  } catch {
    return { problem: `this program does not know the calculation ${calculation}` };
  }
  if (result.outcome === 'refused') {
    const [problem] = result.problems;
    return {
      problem: `its input is refused: ${problem?.field} is ${String(problem?.value)}; accepted: ${problem?.accepted}`,
    };
  }
  return { version: result.version, output: asJson(result.output) };
}
