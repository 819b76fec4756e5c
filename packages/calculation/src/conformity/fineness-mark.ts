import { DomainError, requireDomain } from '../quantity/domain.ts';

/**
 * Highest standard of fineness that an article may be marked with. Standards of fineness are least
 * values without a minus tolerance, so an article just below one falls to the next.
 *
 * Formula: the largest standard not above the fineness.
 *
 * @param finenessPerMille from 0 to 1000 ‰, closed
 * @param standardsPerMille at least one standard in ‰, in any order
 * @returns the standard in ‰, or null when the fineness is below them all
 * @throws DomainError for a fineness outside its range or an empty list
 * Validity: compares unrounded values. See reference/conformity.
 * Source: ISO 9202 (no minus tolerance); Finnish Safety and Chemicals Agency, fineness requirements
 * @example highestFinenessMark(584, [375, 585, 750, 916, 999]) // 375
 */
export function highestFinenessMark(
  finenessPerMille: number,
  standardsPerMille: readonly number[],
): number | null {
  requireDomain(finenessPerMille >= 0 && finenessPerMille <= 1000, {
    field: 'finenessPerMille',
    value: finenessPerMille,
    accepted: 'a fineness from 0 to 1000 ‰',
  });
  if (standardsPerMille.length === 0) {
    throw new DomainError({
      field: 'standardsPerMille',
      value: '',
      accepted: 'at least one standard of fineness',
    });
  }
  const reached = standardsPerMille.filter((standard) => standard <= finenessPerMille);
  return reached.length === 0 ? null : Math.max(...reached);
}
