import type { BookReader } from '../../../journal/books.ts';
import { personOf } from '../../registers/index.ts';
import { type RackState, rackStates } from './rack-states.ts';

/** Pieces of one standard that were counted in a rack, and that its containers held by their labels then. */
interface RackLine {
  readonly pieceStandard: string;
  readonly piecesCounted: number;
  readonly piecesLabelled: number;
}

/** A rack under its place on the balance desk. */
export interface RackAtPlace {
  readonly rack: string;
  readonly title: string;
  readonly count: {
    readonly entry: number;
    readonly instant: string;
    readonly person: string;
    readonly name: string;
    /** The entry that moved one of its containers afterwards. */
    readonly outdatedBy: number | null;
  } | null;
  /** Nothing for those who count. */
  readonly lines: readonly RackLine[] | null;
}

/** Counted beside labelled, for every piece standard that either names. */
export function rackLines(count: NonNullable<RackState['count']>): readonly RackLine[] {
  const { lines, labelled } = count;
  const names = new Set([...lines, ...labelled].map(({ pieceStandard }) => pieceStandard));
  const piecesIn = (rows: readonly { pieceStandard: string; pieces: number }[], name: string) =>
    rows.find((row) => row.pieceStandard === name)?.pieces ?? 0;
  return [...names].sort().map((pieceStandard) => ({
    pieceStandard,
    piecesCounted: piecesIn(lines, pieceStandard),
    piecesLabelled: piecesIn(labelled, pieceStandard),
  }));
}

/** The racks of a place, for whoever counts them or sees the book. */
export async function racksAtPlace(
  books: BookReader,
  place: string,
  seesBook: boolean,
): Promise<readonly RackAtPlace[]> {
  const states = await rackStates(books, place);
  return Promise.all(
    states.map(async ({ rack, count, outdatedBy }) => ({
      rack: rack.rack,
      title: rack.title,
      count: count
        ? {
            entry: count.entry,
            instant: count.instant,
            person: count.author,
            name: (await personOf(books, count.author))?.name ?? count.author,
            outdatedBy: outdatedBy ?? null,
          }
        : null,
      lines: count && seesBook ? rackLines(count) : null,
    })),
  );
}
