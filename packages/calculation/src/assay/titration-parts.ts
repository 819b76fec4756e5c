import { rootSumOfSquares } from '../quantity/sum.ts';

/** A part of the standard uncertainty of some portions' mean fineness, in ‰. */
export interface TitrationPart {
  readonly contribution: string;
  /** One error for all portions, so that it does not fall with their number. */
  readonly isShared: boolean;
  readonly uncertainty: number;
}

/** All parts together, in ‰. */
export const total = (parts: readonly TitrationPart[]): number =>
  rootSumOfSquares(parts.map((part) => part.uncertainty));

/** What is a portion's own, what it shares, and both together, in ‰. */
export const ownAndShared = (parts: readonly TitrationPart[]) => ({
  ownStandardUncertaintyPerMille: total(parts.filter((part) => !part.isShared)),
  sharedStandardUncertaintyPerMille: total(parts.filter((part) => part.isShared)),
  standardUncertaintyPerMille: total(parts),
});

/** The parts as a budget whose shares add to 100 %. */
export function budgetOf(parts: readonly TitrationPart[]) {
  const combined = total(parts);
  return parts.map(({ contribution, isShared, uncertainty }) => ({
    contribution,
    isShared,
    standardUncertaintyPerMille: uncertainty,
    sharePercent: combined === 0 ? 0 : 100 * (uncertainty / combined) ** 2,
  }));
}
