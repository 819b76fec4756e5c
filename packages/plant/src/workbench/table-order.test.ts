import { describe, expect, it } from 'vitest';
import { filterRows, orderRows } from './table-order.ts';

const rows = [
  { id: 'T-10', pieces: 20 },
  { id: 'T-9', pieces: null },
  { id: 'T-2', pieces: 19 },
  { id: 't-1', pieces: 20 },
];

describe('orderRows', () => {
  it('orders ids by the numbers in them', () => {
    expect(orderRows(rows, (row) => row.id, false).map((row) => row.id)).toEqual([
      't-1',
      'T-2',
      'T-9',
      'T-10',
    ]);
  });

  it('keeps rows of equal value in place and rows without a value last in both directions', () => {
    expect(orderRows(rows, (row) => row.pieces, false).map((row) => row.id)).toEqual([
      'T-2',
      'T-10',
      't-1',
      'T-9',
    ]);
    expect(orderRows(rows, (row) => row.pieces, true).map((row) => row.id)).toEqual([
      'T-10',
      't-1',
      'T-2',
      'T-9',
    ]);
  });
});

describe('filterRows', () => {
  it('keeps rows that hold every word, in any case and order', () => {
    const found = filterRows(rows, (row) => [row.id, row.pieces], '20 t-1');
    expect(found.map((row) => row.id)).toEqual(['T-10', 't-1']);
  });
});
