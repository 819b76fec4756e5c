import { describe, expect, it } from 'vitest';
import { digitSwaps, entryFaults, unitSlips } from './entry-faults.ts';
import { faultPosterior } from './fault-posterior.ts';

describe('entryFaults', () => {
  const move = { name: 'move 7', fromCell: 0, toCell: 1, pieces: 1988, likelyOtherCells: [2] };

  it('knows what each kind does to the two books', () => {
    const signatures = new Map(
      entryFaults([move], 3).map(({ name, options }) => [
        name,
        options.map(({ signature }) => signature),
      ]),
    );
    // The book of the giving cell is 1988 too low when the move stands twice.
    expect(signatures.get('move 7 recorded twice')).toEqual([[-1988, 1988, 0]]);
    expect(signatures.get('move 7 turned round')).toEqual([[-3976, 3976, 0]]);
    // 9188 and 1898 become 1988; its last two digits are alike.
    expect(signatures.get('move 7 digits swapped')).toEqual([
      [7200, -7200, 0],
      [-90, 90, 0],
    ]);
    expect(signatures.get('move 7 booked to the wrong place')).toEqual([[0, 1988, -1988]]);
  });

  it('leads the search to the entry whose digits were swapped', () => {
    const other = { name: 'move 8', fromCell: 1, toCell: 2, pieces: 500, likelyOtherCells: [] };
    const variables = entryFaults([move, other], 3);
    const { faults } = faultPosterior({ residual: [-90, 90, 0], variables });
    expect(faults[0]).toMatchObject({ name: 'move 7 digits swapped', value: -90 });
  });

  it('refuses pieces below 1 and a cell that does not exist', () => {
    expect(() => entryFaults([{ ...move, pieces: 0 }], 3)).toThrow(/moves\.0\.pieces/);
    expect(() => entryFaults([{ ...move, toCell: 3 }], 3)).toThrow(/moves\.0\.toCell.*0 to 2/s);
  });
});

describe('numbers gone wrong', () => {
  it('differ by a multiple of nine when digits were swapped', () => {
    for (const pieces of [12, 505, 1988, 70, 123_456]) {
      for (const swapped of digitSwaps(pieces)) expect(Math.abs(pieces - swapped) % 9).toBe(0);
    }
    expect(digitSwaps(11)).toEqual([]);
  });

  it('slip by ten, hundred or thousand where that leaves whole pieces', () => {
    expect(unitSlips(250)).toEqual([2500, 25, 25_000, 250_000]);
  });
});
