import { defineBook } from '../../../journal/books.ts';
import type { InsidePlace } from '../../../journal/place.ts';
import type { TallyLine } from '../bodies.ts';

/** A rack, shelf or safe inside a place. */
export type RackRow = {
  readonly rack: string;
  readonly place: InsidePlace;
  readonly title: string;
  readonly entry: number;
  /** The newest check by scanning; nothing before the first. */
  readonly check: {
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
    readonly found: readonly string[];
    readonly missing: readonly string[];
    readonly strange: readonly string[];
  } | null;
};

export const racks = defineBook<RackRow>({
  name: 'account_rack',
  meaning: 'A rack, shelf or safe inside a place, and its newest check.',
  key: ['rack'],
  indexes: { byPlace: ['place', 'rack'] },
});

/** Where a container was put last. */
export type PutAwayRow = {
  readonly container: string;
  readonly rack: string;
  readonly entry: number;
};

export const putAways = defineBook<PutAwayRow>({
  name: 'account_put_away',
  meaning: 'The rack in which a container was put last.',
  key: ['container'],
  indexes: { byRack: ['rack', 'container'] },
});

/** What a person counted in a rack. */
export type RackCountRow = {
  readonly rack: string;
  readonly entry: number;
  readonly place: InsidePlace;
  readonly instant: string;
  readonly author: string;
  readonly lines: readonly TallyLine[];
  /** What its containers held by their labels at that entry; kept out of sight of those who count. */
  readonly labelled: readonly { readonly pieceStandard: string; readonly pieces: number }[];
};

export const rackCounts = defineBook<RackCountRow>({
  name: 'account_rack_count',
  meaning: 'What was found in a rack, and what its containers held by their labels at that moment.',
  key: ['rack', 'entry'],
});

export const rackBooks = [racks, putAways, rackCounts] as const;
