import type { MetalBalanceOutput } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import type { MovementRow } from '../../journal/core-books.ts';
import type { TallyRow } from './books.ts';
import { closingPlace } from './closing-lines.ts';
import { periodOf } from './period.ts';
import { rackCounts, racks } from './racks/books.ts';
import { rackLines } from './racks/rack-answer.ts';
import { scalesOf } from './scales.ts';

/** What the newest tally of a place says of one piece standard. */
interface PresentLine {
  readonly place: string;
  readonly pieceStandard: string;
  /** Entry and author of the tally. */
  readonly tally: number;
  readonly author: string;
  readonly piecesTally: number;
  /** Nothing where the tally was not weighed. */
  readonly grossMicrogramsTally: number | null;
  /** Tally less book; negative is missing. */
  readonly piecesDifference: number;
  /** Grams missing with their standard uncertainty; null where the balances cannot say. */
  readonly grams: { readonly missing: number; readonly standardUncertainty: number } | null;
  /** The racks of whose counts the tally is the sum; none where the place was counted as one. */
  readonly racks: readonly PresentRack[];
}

/** A rack in a tally: what was counted in it, and what its containers held by their labels. */
export interface PresentRack {
  readonly rack: string;
  readonly title: string;
  readonly piecesCounted: number;
  readonly piecesLabelled: number;
  /** Containers that the newest scan missed, and those that it found by mistake. */
  readonly missing: readonly string[];
  readonly strange: readonly string[];
}

/** Where the account stands since the last close. */
export interface PresentAccount {
  /** The period begins after this entry. */
  readonly start: number;
  readonly movements: readonly MovementRow[];
  readonly lines: readonly PresentLine[];
}

async function racksOf(
  books: BookReader,
  tally: TallyRow | undefined,
): Promise<ReadonlyMap<string, readonly PresentRack[]>> {
  const found = new Map<string, PresentRack[]>();
  for (const { rack: name, count: entry } of tally?.racks ?? []) {
    const rack = await books.get(racks, name);
    const count = await books.get(rackCounts, name, entry);
    for (const { pieceStandard, ...counted } of rack && count ? rackLines(count) : []) {
      const { missing = [], strange = [] } = rack?.check ?? {};
      const one = { rack: name, title: rack?.title ?? '', ...counted, missing, strange };
      found.set(pieceStandard, [...(found.get(pieceStandard) ?? []), one]);
    }
  }
  return found;
}

/** Every tallied place since the last close, with what its tally shows. */
export async function presentAccount(books: BookReader): Promise<PresentAccount> {
  const period = await periodOf(books);
  const scales = await scalesOf(books, period);
  const tallied = period.places.filter((place) => place.tally !== undefined);
  const racked = new Map<string, Awaited<ReturnType<typeof racksOf>>>();
  for (const { place, tally } of tallied) racked.set(place, await racksOf(books, tally));
  return {
    start: Math.min(...period.places.map((place) => place.start)),
    movements: period.movements,
    lines: tallied.flatMap((place) => {
      const closing = closingPlace({ place, period, scales, entry: 0 });
      return closing.lines.map((line): PresentLine => {
        const balance = line.balance?.output as MetalBalanceOutput | undefined;
        return {
          place: place.place,
          pieceStandard: line.pieceStandard,
          tally: closing.tally,
          author: closing.tallyAuthor,
          piecesTally: line.piecesTally,
          grossMicrogramsTally: line.grossMicrogramsTally,
          piecesDifference: line.piecesDifference,
          grams: balance
            ? {
                missing: balance.unexplainedGrossGrams,
                standardUncertainty: balance.standardUncertaintyGrams,
              }
            : null,
          racks: racked.get(place.place)?.get(line.pieceStandard) ?? [],
        };
      });
    }),
  };
}
