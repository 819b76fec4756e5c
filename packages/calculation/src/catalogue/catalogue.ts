import { cupellationCalculation } from '../assay/cupellation.ts';
import { finenessByDifferenceCalculation } from '../assay/fineness-by-difference.ts';
import { replicateAcceptanceCalculation } from '../assay/replicate-acceptance.ts';
import { metalBalanceCalculation } from '../balance/metal-balance.ts';
import { finenessVerdictCalculation } from '../conformity/fineness-verdict.ts';
import { countByWeightCalculation } from '../counting/count-by-weight.ts';
import { fineMassCalculation } from '../mass/fine-mass.ts';
import { DomainError } from '../quantity/domain.ts';
import { attributePlanCalculation } from '../sampling/attribute-plan.ts';
import { drawCalculation } from '../sampling/draw.ts';
import { weightStatisticsCalculation } from '../weights/weight-statistics.ts';
import type { Calculation } from './calculation.ts';

/** Every calculation that the product offers, each listed once, in alphabetical order of its id. */
export const catalogue = [
  attributePlanCalculation,
  countByWeightCalculation,
  cupellationCalculation,
  drawCalculation,
  fineMassCalculation,
  finenessByDifferenceCalculation,
  finenessVerdictCalculation,
  metalBalanceCalculation,
  replicateAcceptanceCalculation,
  weightStatisticsCalculation,
] as unknown as readonly Calculation[];

/** The calculation of that id; a `DomainError` names the ids there are. */
export function calculationById(id: string): Calculation {
  const found = catalogue.find((calculation) => calculation.id === id);
  if (!found) {
    throw new DomainError({
      field: 'id',
      value: id,
      accepted: catalogue.map((calculation) => calculation.id).join(', '),
    });
  }
  return found;
}
