import type { MovementRow } from '../../journal/core-books.ts';
import type { DifferenceRow, Standing, TallyRow } from './books.ts';

/** Tally less book of one piece standard at one place, with what has been signed for since. */
export interface Comparison {
  readonly metal: string;
  readonly pieceStandard: string;
  readonly piecesBook: number;
  readonly piecesTally: number;
  readonly piecesSigned: number;
  readonly piecesDifference: number;
  readonly grossMicrogramsBook: number;
  readonly grossMicrogramsTally: number | null;
  readonly grossMicrogramsSigned: number;
  readonly grossMicrogramsDifference: number | null;
  readonly fineMicrogramsBook: number;
  readonly fineMicrogramsTally: number | null;
  readonly fineMicrogramsSigned: number;
  readonly fineMicrogramsDifference: number | null;
}

const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);

const difference = (tally: number | null, book: number, signed: number): number | null =>
  tally === null ? null : tally - book - signed;

/**
 * Compares a tally with the book as it stood at the tally. A piece standard that lies in the book
 * but not in the tally was not found; signed differences count as settled.
 */
export function compareTally(
  tally: TallyRow,
  signed: readonly DifferenceRow[],
): readonly Comparison[] {
  const metals = new Map<string, string>();
  for (const one of [...tally.book, ...tally.lines]) metals.set(one.pieceStandard, one.metal);
  return [...metals]
    .sort(([left], [right]) => (left < right ? -1 : 1))
    .map(([pieceStandard, metal]) => compareLine({ tally, signed, pieceStandard, metal }));
}

function compareLine(options: {
  tally: TallyRow;
  signed: readonly DifferenceRow[];
  pieceStandard: string;
  metal: string;
}): Comparison {
  const { tally, pieceStandard, metal } = options;
  const line = tally.lines.find((one) => one.pieceStandard === pieceStandard);
  const book: Standing | undefined = tally.book.find((one) => one.pieceStandard === pieceStandard);
  const signed = options.signed.filter(
    (row) =>
      row.place === tally.place && row.pieceStandard === pieceStandard && row.entry > tally.tally,
  );
  const piecesSigned = sum(signed.map((row) => row.pieces));
  const grossMicrogramsSigned = sum(signed.map((row) => row.grossMicrograms));
  const fineMicrogramsSigned = sum(signed.map((row) => row.fineMicrograms));
  const piecesTally = line?.pieces ?? 0;
  const grossMicrogramsTally = line?.grossMicrograms ?? null;
  const fineMicrogramsTally = line?.fineMicrograms ?? null;
  const piecesBook = book?.pieces ?? 0;
  const grossMicrogramsBook = book?.grossMicrograms ?? 0;
  const fineMicrogramsBook = book?.fineMicrograms ?? 0;
  return {
    metal,
    pieceStandard,
    piecesBook,
    piecesTally,
    piecesSigned,
    piecesDifference: piecesTally - piecesBook - piecesSigned,
    grossMicrogramsBook,
    grossMicrogramsTally,
    grossMicrogramsSigned,
    grossMicrogramsDifference: difference(
      grossMicrogramsTally,
      grossMicrogramsBook,
      grossMicrogramsSigned,
    ),
    fineMicrogramsBook,
    fineMicrogramsTally,
    fineMicrogramsSigned,
    fineMicrogramsDifference: difference(
      fineMicrogramsTally,
      fineMicrogramsBook,
      fineMicrogramsSigned,
    ),
  };
}

/** Whether a movement has an end at the place. */
export function touches(movement: MovementRow, place: string): boolean {
  return movement.from === place || movement.to === place;
}

/**
 * The first movement at the place that its tally does not know of, up to and with the entry `last`.
 * A difference that was signed on the strength of the tally is no such movement.
 */
export function movementAfterTally(options: {
  place: string;
  tally: number;
  last: number;
  movements: readonly MovementRow[];
  signed: readonly DifferenceRow[];
}): MovementRow | undefined {
  const signedEntries = new Set(options.signed.map((row) => row.entry));
  return options.movements.find(
    (movement) =>
      touches(movement, options.place) &&
      movement.entry > options.tally &&
      movement.entry <= options.last &&
      !signedEntries.has(movement.entry),
  );
}
