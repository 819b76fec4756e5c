import { requireDomain } from '../quantity/domain.ts';
import { acceptanceQualityLimits } from './attribute-tables.ts';
import { limitNumberRows } from './limit-number-table.ts';

/** What Table VIII says of so many sample units: a limit number, or why there is none. */
export type LimitNumber =
  | { readonly found: 'limit'; readonly limitNumber: number }
  | { readonly found: 'too few units'; readonly unitsNeeded: number }
  | { readonly found: 'not tabulated' };

/** Units from which a column has a limit number. */
function fewestUnits(column: number): number {
  const row = limitNumberRows.find(({ firstColumn }) => firstColumn <= column);
  if (!row) throw new Error(`Table VIII has no limit in column ${column}`);
  return row.unitsMinimum;
}

/**
 * Limit number for reduced inspection: how many nonconforming pieces the samples of the last ten
 * lots may have shown altogether.
 *
 * @param sampleUnits pieces examined in those lots, all samples counted, whole number of 0 or more
 * @param acceptanceQualityLimitPercent one of the twenty-six column heads
 * @returns the limit; or how many units are needed where so few do not suffice (more lots may then
 * be added); or that the table gives none for so many units at so high a limit
 * @throws DomainError for a count that is no whole number or a limit that is no column
 * Validity: the non-zero figures are published, zeros and the place of the rows are from memory; see
 * reference/mil-std-105e.
 * Source: MIL-STD-105E (1989), Table VIII and its note; clause 4.7.3
 * @example limitNumber(1250, 1).limitNumber // 7
 */
export function limitNumber(
  sampleUnits: number,
  acceptanceQualityLimitPercent: number,
): LimitNumber {
  requireDomain(Number.isSafeInteger(sampleUnits) && sampleUnits >= 0, {
    field: 'sampleUnits',
    value: sampleUnits,
    accepted: 'a whole number of 0 or more',
  });
  const columns: readonly number[] = acceptanceQualityLimits;
  const column = columns.indexOf(acceptanceQualityLimitPercent);
  requireDomain(column >= 0, {
    field: 'acceptanceQualityLimitPercent',
    value: acceptanceQualityLimitPercent,
    accepted: `one of ${acceptanceQualityLimits.join(', ')}`,
  });
  const row = limitNumberRows.findLast(({ unitsMinimum }) => unitsMinimum <= sampleUnits);
  if (!row || column < row.firstColumn) {
    return { found: 'too few units', unitsNeeded: fewestUnits(column) };
  }
  const limit = row.limits[column - row.firstColumn];
  return limit === undefined ? { found: 'not tabulated' } : { found: 'limit', limitNumber: limit };
}
