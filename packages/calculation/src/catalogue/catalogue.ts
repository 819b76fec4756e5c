import { assayCalculations } from '../assay/calculations.ts';
import { balanceCalculations } from '../balance/calculations.ts';
import { conformityCalculations } from '../conformity/calculations.ts';
import { controlCalculations } from '../control/calculations.ts';
import { countingCalculations } from '../counting/calculations.ts';
import { diesCalculations } from '../dies/calculations.ts';
import { exchangeCalculations } from '../exchange/calculations.ts';
import { massCalculations } from '../mass/calculations.ts';
import { physicalCalculations } from '../physical/calculations.ts';
import { DomainError } from '../quantity/domain.ts';
import { samplingCalculations } from '../sampling/calculations.ts';
import { searchCalculations } from '../search/calculations.ts';
import { uncertaintyCalculations } from '../uncertainty/calculations.ts';
import { weightsCalculations } from '../weights/calculations.ts';
import type { Calculation } from './calculation.ts';

/** Every calculation that the product offers, each listed once by its topic, in alphabetical order of its id. */
export const catalogue = (
  [
    ...assayCalculations,
    ...balanceCalculations,
    ...conformityCalculations,
    ...controlCalculations,
    ...countingCalculations,
    ...diesCalculations,
    ...exchangeCalculations,
    ...massCalculations,
    ...physicalCalculations,
    ...samplingCalculations,
    ...searchCalculations,
    ...uncertaintyCalculations,
    ...weightsCalculations,
  ] as unknown as readonly Calculation[]
).toSorted((left, right) => (left.id < right.id ? -1 : 1));

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
