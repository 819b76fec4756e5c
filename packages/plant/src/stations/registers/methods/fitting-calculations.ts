import { type Calculation, catalogue } from '@cupel/calculation';
import { type AssayMethod, assayMethods } from '../piece-standard.ts';

/** A calculation as the list shows it from which the one of a method is chosen. */
export interface ListedCalculation {
  readonly [field: string]: string | readonly string[];
  readonly id: string;
  readonly title: string;
  readonly purpose: string;
  readonly source: string;
  readonly cautions: readonly string[];
  /** Ways of assay whose runs are computed by it. */
  readonly waysOfAssay: readonly AssayMethod[];
}

const listed = ({ id, title, purpose, source, cautions }: Calculation): ListedCalculation => ({
  id,
  title,
  purpose,
  source,
  cautions: [...(cautions ?? [])],
  // A run is computed by the calculation that bears the name of its way of assay.
  waysOfAssay: assayMethods.filter((way) => way === id),
});

/** The calculations of the catalogue that a method can name: those by which runs are computed. */
export const fittingCalculations: readonly ListedCalculation[] = catalogue
  .map((one) => listed(one as Calculation))
  .filter(({ waysOfAssay }) => waysOfAssay.length > 0);

/** What is listed of a calculation; nothing where the catalogue has none of that id. */
export function listedCalculation(calculation: string): ListedCalculation | undefined {
  const found = catalogue.find(({ id }) => id === calculation);
  return found && listed(found as Calculation);
}
