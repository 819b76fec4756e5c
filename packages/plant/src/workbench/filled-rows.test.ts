import { describe, expect, it } from 'vitest';
import { filledRows } from './filled-rows.ts';

describe('the rows of a table', () => {
  const filled = (rows: readonly string[]) => filledRows(rows, (row) => row === '');

  it('end with the last that somebody filled, and keep their numbers', () => {
    expect(filled(['a', '', 'b', '', ''])).toEqual(['a', '', 'b']);
    expect(filled(['', ''])).toEqual([]);
    expect(filled([])).toEqual([]);
  });
});
