import type { BookReader } from '../../journal/books.ts';
import type { MovementRow } from '../../journal/core-books.ts';
import { type PresentRack, presentAccount } from '../account/index.ts';
import {
  type BoxRow,
  boxesPackedAfter,
  type TubeRow,
  tubesInPutUp,
  tubesOfBoxes,
} from '../put-up/index.ts';
import { instrumentOf, type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import type { EvidenceBalance } from './tube-evidence.ts';

/** What the newest tally of a place says of the piece standard. */
export interface Cell {
  readonly place: string;
  readonly tally: number;
  readonly author: string;
  readonly piecesTally: number;
  /** Nothing where it was not weighed. */
  readonly gramsTally: number | null;
  /** Book less tally: positive is missing. */
  readonly residualPieces: number;
  /** Grams missing with their standard uncertainty; null where no balance says. */
  readonly grams: { readonly missing: number; readonly standardUncertainty: number } | null;
  /** The racks of whose counts the tally is the sum; none where the place was counted as one. */
  readonly racks: readonly PresentRack[];
}

/** Everything that a search reads of the present period. */
export interface SearchFacts {
  readonly standard: PieceStandard;
  readonly cells: readonly Cell[];
  /** Moves of the piece standard since the last close. */
  readonly movements: readonly MovementRow[];
  /** Tubes that are closed, in put-up or in a box packed in the period. */
  readonly tubes: readonly TubeRow[];
  readonly boxes: readonly BoxRow[];
  readonly balances: ReadonlyMap<string, EvidenceBalance>;
}

async function balancesOf(
  books: BookReader,
  tubes: readonly TubeRow[],
): Promise<ReadonlyMap<string, EvidenceBalance>> {
  const names = new Set(tubes.flatMap((tube) => tube.readings.at(-1)?.instrument ?? []));
  const found = new Map<string, EvidenceBalance>();
  for (const name of names) {
    const { divisionGrams, repeatabilityGrams, gainRelative } =
      (await instrumentOf(books, name)) ?? {};
    if (divisionGrams == null || repeatabilityGrams == null || gainRelative == null) continue;
    found.set(name, { divisionGrams, repeatabilityGrams, gainRelative });
  }
  return found;
}

/** Reads what a search of one piece standard needs; nothing when the standard is not registered. */
export async function searchFacts(
  books: BookReader,
  pieceStandard: string,
): Promise<SearchFacts | undefined> {
  const standard = await pieceStandardOf(books, pieceStandard);
  if (!standard) return undefined;
  const account = await presentAccount(books);
  const cells = account.lines
    .filter((line) => line.pieceStandard === pieceStandard)
    .map(
      (line): Cell => ({
        place: line.place,
        tally: line.tally,
        author: line.author,
        piecesTally: line.piecesTally,
        gramsTally: line.grossMicrogramsTally === null ? null : line.grossMicrogramsTally / 1e6,
        residualPieces: 0 - line.piecesDifference,
        grams: line.grams,
        racks: line.racks,
      }),
    );
  const boxes = (await boxesPackedAfter(books, account.start)).filter(
    (box) => box.pieceStandard === pieceStandard,
  );
  const tubes = [...(await tubesInPutUp(books)), ...(await tubesOfBoxes(books, boxes))].filter(
    (tube) => tube.pieceStandard === pieceStandard && tube.readings.length > 0,
  );
  const movements = account.movements.filter(
    (movement) => movement.pieceStandard === pieceStandard && movement.pieces > 0,
  );
  return { standard, cells, movements, tubes, boxes, balances: await balancesOf(books, tubes) };
}
