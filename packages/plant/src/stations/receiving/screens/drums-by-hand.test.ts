import { describe, expect, it } from 'vitest';
import { readPackingList } from '../packing-list.ts';
import { handColumns, handList, nextDrum, rowOfLine } from './drums-by-hand.ts';

const first = {
  drum: 'D-1',
  melt: 'M-1',
  pieces: '300',
  gross: '5,0100',
  tare: '2.0',
  seal: 'S-1',
  fineness: '999,93',
};
const reading = {
  consignment: 'C-1',
  supplier: 'NORTH',
  document: 'Note 1',
  pieceStandard: 'GOLD-10',
  columns: handColumns,
  massUnit: 'kg' as const,
  decimalMark: 'point' as const,
};

describe('drums filled in by hand', () => {
  it('are read as a packing list is, with a comma or a point', () => {
    const result = readPackingList(handList([first]), reading);
    expect(result).toMatchObject({
      outcome: 'read',
      input: {
        melts: [{ melt: 'M-1', supplierFinenessPerMille: 999.93 }],
        drums: [
          {
            drum: 'D-1',
            pieces: 300,
            gross: { text: '5.0100', unit: 'kg', typed: true },
            tare: { text: '2.0', unit: 'kg', typed: true },
            seal: 'S-1',
          },
        ],
      },
    });
  });

  it('leave out rows that were not begun and keep the places of the others', () => {
    const begun = { ...nextDrum(first), drum: 'D-3', pieces: 'ten' };
    const drums = [first, nextDrum(first), begun];
    const result = readPackingList(handList(drums), reading);
    const problems = result.outcome === 'problems' ? result.problems : [];
    const pieces = problems.find(({ column }) => column === 'Pieces');
    expect(pieces).toMatchObject({ line: 3, value: 'ten' });
    expect(rowOfLine(drums, pieces?.line ?? 0)).toBe(3);
    expect(rowOfLine(drums, 0)).toBe(0);
  });

  it('begin with the melt, the tare and the fineness of the drum before', () => {
    expect(nextDrum(first)).toEqual({
      ...first,
      drum: '',
      pieces: '',
      gross: '',
      seal: '',
    });
    expect(handList([nextDrum(undefined)])).toBe('');
  });

  it('cannot break out of their cells', () => {
    const odd = { ...first, seal: 'S-1";"x\ny' };
    const result = readPackingList(handList([odd]), reading);
    expect(result.outcome === 'problems' && result.problems).toMatchObject([
      // A line break in a cell is read as a blank, which no seal number has.
      { column: 'Seal', value: 'S-1";"x y' },
    ]);
  });
});
