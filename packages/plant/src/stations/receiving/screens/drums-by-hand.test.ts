import { describe, expect, it } from 'vitest';
import { readPackingList } from '../packing-list.ts';
import {
  codeProblem,
  handColumns,
  handList,
  nextDrum,
  rowOfLine,
  withRowToFill,
} from './drums-by-hand.ts';

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

  it('have one empty row at the end, whatever was scanned', () => {
    expect(withRowToFill([first])).toEqual([first, nextDrum(first)]);
    const waiting = withRowToFill([first]);
    expect(withRowToFill(waiting)).toBe(waiting);
    const scanned = [first, { ...nextDrum(first), drum: 'D-2' }];
    expect(withRowToFill(scanned)).toHaveLength(3);
    expect(withRowToFill([])).toEqual([nextDrum(undefined)]);
    // The row that waits is no drum yet.
    expect(handList(withRowToFill([first]))).toBe(handList([first]));
  });

  it('say at once where a code was scanned twice, or a drum for a seal', () => {
    const second = { ...first, drum: 'D-2', seal: 'S-2' };
    const at = (index: number, field: 'drum' | 'seal') => ({ index, field });
    expect(codeProblem([first, second], at(1, 'drum'))).toBeUndefined();
    expect(codeProblem([first, { ...second, drum: 'D-1' }], at(1, 'drum'))).toBe(
      'D-1 stands in row 1 too.',
    );
    expect(codeProblem([first, { ...second, seal: 'D-2' }], at(1, 'seal'))).toBe(
      'D-2 is the drum of row 2.',
    );
    expect(codeProblem([nextDrum(first)], at(0, 'seal'))).toBeUndefined();
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
