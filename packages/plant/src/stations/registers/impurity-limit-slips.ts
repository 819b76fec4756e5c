import { type Refusal, refuse } from '../../journal/refusal.ts';
import type { PieceStandard } from './piece-standard.ts';
import { registersRefusals } from './refusals.ts';

/** No impurity of a melt is determined down to less: smaller limits are contents in percent. */
const leastMilligramsPerKilogram = 0.1;

/** How often the part that the declared fineness leaves goes into the limit of one element. */
const mostOfRest = 5;

const perPercent = 10_000;

/** Refuses limits of an impurity table that are stated in another unit than mg/kg. */
export function impurityLimitSlips(standard: PieceStandard): readonly Refusal[] {
  const rest = 1_000_000 - standard.finenessDeclaredPartsPerMillion;
  // Where pure metal is declared, nothing is left to compare a limit with.
  const mostMilligramsPerKilogram = rest > 0 ? Math.min(1_000_000, mostOfRest * rest) : 1_000_000;
  const limits = standard.impurityTable?.limits ?? [];
  return limits.flatMap(({ element, limitMilligramsPerKilogram: limit }, index) => {
    if (limit >= leastMilligramsPerKilogram && limit <= mostMilligramsPerKilogram) return [];
    const percent = Number((limit * perPercent).toPrecision(6));
    const words =
      limit > 0 && limit < leastMilligramsPerKilogram ? `; ${limit} % are ${percent} mg/kg` : '';
    return refuse(registersRefusals, 'ImpurityLimitImplausible', {
      message: `The limit of ${element} is ${limit} mg/kg${words}. From ${leastMilligramsPerKilogram} to ${mostMilligramsPerKilogram} mg/kg are taken beside ${standard.finenessDeclaredPartsPerMillion / 1000} ‰.`,
      field: `impurityTable.limits.${index}.limitMilligramsPerKilogram`,
      figures: {
        element,
        limitMilligramsPerKilogram: limit,
        leastMilligramsPerKilogram,
        mostMilligramsPerKilogram,
      },
    });
  });
}
