/** A value that rows are ordered by; nothing stands last in both directions. */
export type OrderValue = string | number | null | undefined;

/** What a table is ordered by. */
export interface TableOrder {
  readonly column: string;
  readonly descending: boolean;
}

const collator = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });

function compare(left: OrderValue, right: OrderValue): number {
  if (typeof left === 'number' && typeof right === 'number') return left - right;
  return collator.compare(String(left), String(right));
}

const isMissing = (value: OrderValue) => value === null || value === undefined || value === '';

/** The rows in order of a column; rows of equal value keep their places. */
export function orderRows<Row>(
  rows: readonly Row[],
  orderOf: (row: Row) => OrderValue,
  descending: boolean,
): readonly Row[] {
  const sign = descending ? -1 : 1;
  return [...rows].sort((a, b) => {
    const [left, right] = [orderOf(a), orderOf(b)];
    if (isMissing(left) || isMissing(right))
      return Number(isMissing(left)) - Number(isMissing(right));
    return sign * compare(left, right);
  });
}

/** The rows of which some value holds every word of the filter. */
export function filterRows<Row>(
  rows: readonly Row[],
  valuesOf: (row: Row) => readonly OrderValue[],
  filter: string,
): readonly Row[] {
  const words = filter.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return rows;
  return rows.filter((row) => {
    const text = valuesOf(row).join(' ').toLowerCase();
    return words.every((word) => text.includes(word));
  });
}
