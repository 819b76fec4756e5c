import type { MetalBalanceOutput } from '@cupel/calculation';
import type { MovementRow } from '../../journal/core-books.ts';
import type { InsidePlace, Metal } from '../../journal/place.ts';
import type { ClosingLine } from './bodies.ts';
import type { PeriodDifference, PeriodLine } from './bodies-periods.ts';
import type { ClosingRow, Standing } from './books.ts';
import { touches } from './comparison.ts';

/** What lies at a place now. */
interface PlaceStanding {
  readonly place: InsidePlace;
  readonly standing: readonly Standing[];
}

/** The entries of a period, both ends with it. */
interface EntryRange {
  readonly firstEntry: number;
  readonly lastEntry: number;
}

/** Pieces, gross and fine micrograms. */
type Amounts = readonly [pieces: number, gross: number, fine: number];

const nothing: Amounts = [0, 0, 0];

const amountsOf = (row: {
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
}): Amounts => [row.pieces, row.grossMicrograms, row.fineMicrograms];

const combine = (left: Amounts, right: Amounts, sign: 1 | -1): Amounts => [
  left[0] + sign * right[0],
  left[1] + sign * right[1],
  left[2] + sign * right[2],
];

/** The entries that the closes of a period cover. */
export function rangeOf(closings: readonly ClosingRow[]): EntryRange {
  return {
    firstEntry: Math.min(...closings.map((closing) => closing.firstEntry)),
    lastEntry: Math.max(...closings.map((closing) => closing.lastEntry)),
  };
}

function sumOf(movements: readonly MovementRow[]): Amounts {
  return movements.reduce((sum, one) => combine(sum, amountsOf(one), 1), nothing);
}

function lineOf(options: {
  place: InsidePlace;
  metal: string;
  pieceStandard: string;
  now: Amounts;
  /** Movements of the piece standard at the place, from the first entry of the period on. */
  movements: readonly MovementRow[];
  lastEntry: number;
}): PeriodLine {
  const { place, metal, pieceStandard, now, movements, lastEntry } = options;
  const into = movements.filter((movement) => movement.to === place);
  const outOf = movements.filter((movement) => movement.from === place);
  const inPeriod = (rows: readonly MovementRow[]) =>
    sumOf(rows.filter((movement) => movement.entry <= lastEntry));
  const opening = combine(combine(now, sumOf(into), -1), sumOf(outOf), 1);
  const [received, sent] = [inPeriod(into), inPeriod(outOf)];
  const closing = combine(combine(opening, received, 1), sent, -1);
  return {
    place,
    metal: metal as Metal,
    pieceStandard,
    piecesOpening: opening[0],
    piecesReceived: received[0],
    piecesSent: sent[0],
    piecesClosing: closing[0],
    grossMicrogramsOpening: opening[1],
    grossMicrogramsReceived: received[1],
    grossMicrogramsSent: sent[1],
    grossMicrogramsClosing: closing[1],
    fineMicrogramsOpening: opening[2],
    fineMicrogramsReceived: received[2],
    fineMicrogramsSent: sent[2],
    fineMicrogramsClosing: closing[2],
  };
}

const isEmpty = (line: PeriodLine): boolean =>
  [
    line.piecesOpening,
    line.piecesReceived,
    line.piecesSent,
    line.piecesClosing,
    line.grossMicrogramsOpening,
    line.grossMicrogramsReceived,
    line.grossMicrogramsSent,
    line.grossMicrogramsClosing,
  ].every((amount) => amount === 0);

/**
 * What lay at every place when the period began and ended, and what came and went between: from what
 * lies there now, less everything that moved since.
 */
export function periodLines(options: {
  places: readonly PlaceStanding[];
  /** Every movement from the first entry of the period until now. */
  movements: readonly MovementRow[];
  range: EntryRange;
}): PeriodLine[] {
  const { places, movements, range } = options;
  return places.flatMap(({ place, standing }) => {
    const moved = movements.filter(
      (movement) => movement.entry >= range.firstEntry && touches(movement, place),
    );
    const metals = new Map(
      [...standing, ...moved].map((row) => [row.pieceStandard, row.metal] as const),
    );
    return [...metals]
      .sort(([left], [right]) => (left < right ? -1 : 1))
      .map(([pieceStandard, metal]) => {
        const held = standing.find((row) => row.pieceStandard === pieceStandard);
        return lineOf({
          place,
          metal,
          pieceStandard,
          now: held ? amountsOf(held) : nothing,
          movements: moved.filter((movement) => movement.pieceStandard === pieceStandard),
          lastEntry: range.lastEntry,
        });
      })
      .filter((line) => !isEmpty(line));
  });
}

/** Micrograms that the balance of a close leaves unexplained; negative is missing. */
function unexplainedMicrograms(line: ClosingLine): number | null {
  if (!line.balance) return null;
  const { unexplainedGrossGrams } = line.balance.output as unknown as MetalBalanceOutput;
  // A tally less its book is negative where the balance says missing; 0 has one sign only.
  return Math.round(-unexplainedGrossGrams * 1e6) + 0;
}

/** What the closes of the period found beside the book, by place and piece standard. */
export function periodDifferences(closings: readonly ClosingRow[]): PeriodDifference[] {
  const sums = new Map<string, PeriodDifference>();
  for (const { places } of closings) {
    for (const { place, lines } of places) {
      for (const line of lines) {
        const { metal, pieceStandard } = line;
        const key = `${place}\n${pieceStandard}`;
        const before = sums.get(key);
        const unexplained = unexplainedMicrograms(line);
        const summed = before?.grossMicrogramsUnexplained ?? null;
        sums.set(key, {
          place,
          metal,
          pieceStandard,
          closes: (before?.closes ?? 0) + 1,
          weighedCloses: (before?.weighedCloses ?? 0) + (unexplained === null ? 0 : 1),
          piecesSigned: (before?.piecesSigned ?? 0) + line.piecesSigned,
          grossMicrogramsSigned: (before?.grossMicrogramsSigned ?? 0) + line.grossMicrogramsSigned,
          grossMicrogramsUnexplained: unexplained === null ? summed : (summed ?? 0) + unexplained,
        });
      }
    }
  }
  return [...sums.values()];
}
