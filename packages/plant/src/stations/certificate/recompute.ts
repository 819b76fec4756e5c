import {
  calculationById,
  type MeltFinenessInput,
  type MeltFinenessOutput,
  runCalculation,
} from '@cupel/calculation';
import type { Json } from '../../ports/json.ts';

/** A calculation done once more, or why it cannot be done. */
export type Recomputed =
  | { readonly version: number; readonly output: Json }
  | { readonly problem: string };

/**
 * Name under which a certificate keeps the uncertainty of a melt. What the laboratory records under
 * it is the part of `melt-fineness` of the catalogue that bears on the uncertainty.
 */
export const meltUncertaintyName = 'melt-uncertainty';

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

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

/**
 * The uncertainty of a melt by `melt-fineness`: the record names no source of the own parts, which
 * are always as stated, and keeps the figures of the uncertainty alone.
 */
function recomputeMeltUncertainty(input: unknown): Recomputed {
  const recorded = (input ?? {}) as MeltFinenessInput;
  if (recorded.ownPart !== undefined) {
    const accepted = 'none, for own parts are as stated';
    return {
      problem: `its input is refused: ownPart is ${recorded.ownPart}; accepted: ${accepted}`,
    };
  }
  const again = recomputeOfCatalogue('melt-fineness', { ...recorded, ownPart: 'as stated' });
  if ('problem' in again) return again;
  const found = again.output as unknown as MeltFinenessOutput;
  const output = {
    standardUncertaintyPerMille: found.standardUncertaintyPerMille,
    effectiveDegreesOfFreedom: found.effectiveDegreesOfFreedom,
    spreadStandardDeviationPerMille: found.spreadStandardDeviationPerMille,
    betweenBlanksStandardDeviationPerMille: found.betweenBlanksStandardDeviationPerMille,
    budget: found.budget,
  };
  return { version: again.version, output };
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
