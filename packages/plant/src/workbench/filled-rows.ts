/**
 * The rows of a table without the empty ones at its end, which a form offers and nobody filled. An
 * empty row between others stays, so that every row keeps the number by which a refusal names it.
 */
export function filledRows<Row>(
  rows: readonly Row[],
  isEmpty: (row: Row) => boolean,
): readonly Row[] {
  const last = rows.findLastIndex((row) => !isEmpty(row));
  return rows.slice(0, last + 1);
}
