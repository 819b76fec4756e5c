import { requireDomain } from '../quantity/domain.ts';
import type { FaultOption, FaultVariable } from './fault-model.ts';

/** A move of pieces as it stands in the journal; a cell is its index, `null` lies outside the plant. */
export interface BookedMove {
  readonly name: string;
  readonly fromCell: number | null;
  readonly toCell: number | null;
  readonly pieces: number;
  /** Cells that could have been meant in place of the receiving one. */
  readonly likelyOtherCells: readonly number[];
}

/** Ways in which an entry can be wrong, with how often each happens per entry. */
export interface EntryFaultRates {
  readonly recordedTwice: number;
  readonly turnedRound: number;
  readonly digitsSwapped: number;
  readonly unitSlip: number;
  readonly otherCell: number;
}

/** Rates before the plant has tallies of its own: assumptions, about one in ten thousand entries. */
export const assumedEntryFaultRates: EntryFaultRates = {
  recordedTwice: 2e-4,
  turnedRound: 5e-5,
  digitsSwapped: 1e-4,
  unitSlip: 5e-5,
  otherCell: 1e-4,
};

/** What people say of an entry that is wrong in one of these ways. */
const kindWords: Readonly<Record<keyof EntryFaultRates, string>> = {
  recordedTwice: 'recorded twice',
  turnedRound: 'turned round',
  digitsSwapped: 'digits swapped',
  unitSlip: 'slip of ten, hundred or thousand',
  otherCell: 'booked to the wrong place',
};

/** The numbers that become this one when two neighbouring digits are swapped. */
export function digitSwaps(pieces: number): number[] {
  const digits = [...String(pieces)];
  const swaps = digits.slice(1).map((_, at) => {
    const swapped = [...digits];
    swapped[at] = digits[at + 1] ?? '';
    swapped[at + 1] = digits[at] ?? '';
    return Number(swapped.join(''));
  });
  return [...new Set(swaps)].filter((value) => value !== pieces);
}

/** The whole numbers that become this one by a slip of ten, hundred or thousand. */
export function unitSlips(pieces: number): number[] {
  return [10, 100, 1000].flatMap((factor) =>
    [pieces * factor, pieces / factor].filter((value) => value > 0 && Number.isInteger(value)),
  );
}

/** What an entry does to the residuals when the true number of pieces is another one. */
function signatureOf(move: BookedMove, truePieces: number, cells: number): number[] {
  const signature = new Array<number>(cells).fill(0);
  const more = truePieces - move.pieces;
  if (move.fromCell !== null) signature[move.fromCell] = (signature[move.fromCell] ?? 0) + more;
  if (move.toCell !== null) signature[move.toCell] = (signature[move.toCell] ?? 0) - more;
  return signature;
}

function meantForOther(move: BookedMove, cell: number, cells: number): number[] {
  const signature = new Array<number>(cells).fill(0);
  if (move.toCell !== null) signature[move.toCell] = move.pieces;
  signature[cell] = -move.pieces;
  return signature;
}

/** The options of one kind of fault of an entry, which share its rate. */
function kindOf(
  move: BookedMove,
  kind: keyof EntryFaultRates,
  rate: number,
  truths: readonly { readonly value: number; readonly signature: readonly number[] }[],
): FaultVariable[] {
  const seen = truths.filter(({ signature }) => signature.some((value) => value !== 0));
  if (seen.length === 0) return [];
  const weight = rate / (1 - rate) / seen.length;
  const options = seen.map(
    ({ value, signature }): FaultOption => ({ value, weight, signature: [...signature] }),
  );
  return [{ name: `${move.name} ${kindWords[kind]}`, options }];
}

/**
 * The ways in which a booked move can be wrong, as things that can be wrong for `faultPosterior`: recorded
 * twice, turned round, two digits swapped, a slip of ten to a thousand, booked to another cell.
 *
 * Formula: with n pieces booked and n′ moved in truth the book of the giving cell is n′ − n too high and that
 * of the receiving cell n′ − n too low; n′ is 0, −n, or a swapped or slipped n. Booked to the wrong cell,
 * that one is n too high and the right one n too low. The rate of a kind is shared by its options.
 *
 * @param moves pieces as whole numbers from 1; cells as indices below `cells`, or `null` for outside
 * @param cells number of custody cells, 1 or more
 * @param rates of each kind per entry, above 0 and below 1
 * @returns one variable for each move and kind; the value of an option is the true number less the booked
 * one, or the index of the cell that was meant
 * @throws DomainError for pieces below 1 or a cell that does not exist
 * Validity: kinds are independent of one another; two in one entry are as rare as in two.
 * Source: common practice of bookkeepers, the rule of nine for swapped digits among it
 * @example entryFaults([{ name: 'move 12', fromCell: 0, toCell: 1, pieces: 1988, likelyOtherCells: [] }],
 *   2)[0].options[0].signature // [-1988, 1988]
 */
export function entryFaults(
  moves: readonly BookedMove[],
  cells: number,
  rates: EntryFaultRates = assumedEntryFaultRates,
): FaultVariable[] {
  return moves.flatMap((move, at) => {
    requireMove(move, at, cells);
    const instead = (truths: readonly number[]) =>
      truths.map((pieces) => ({
        value: pieces - move.pieces,
        signature: signatureOf(move, pieces, cells),
      }));
    const others = move.likelyOtherCells.map((cell) => ({
      value: cell,
      signature: meantForOther(move, cell, cells),
    }));
    return [
      ...kindOf(move, 'recordedTwice', rates.recordedTwice, instead([0])),
      ...kindOf(move, 'turnedRound', rates.turnedRound, instead([-move.pieces])),
      ...kindOf(move, 'digitsSwapped', rates.digitsSwapped, instead(digitSwaps(move.pieces))),
      ...kindOf(move, 'unitSlip', rates.unitSlip, instead(unitSlips(move.pieces))),
      ...kindOf(move, 'otherCell', rates.otherCell, others),
    ];
  });
}

function requireMove(move: BookedMove, at: number, cells: number): void {
  requireDomain(Number.isSafeInteger(move.pieces) && move.pieces >= 1, {
    field: `moves.${at}.pieces`,
    value: move.pieces,
    accepted: 'a whole number of pieces from 1',
  });
  for (const field of ['fromCell', 'toCell'] as const) {
    const cell = move[field];
    requireDomain(cell === null || (Number.isInteger(cell) && cell >= 0 && cell < cells), {
      field: `moves.${at}.${field}`,
      value: cell,
      accepted: `a cell from 0 to ${cells - 1}, or nothing for outside`,
    });
  }
}
