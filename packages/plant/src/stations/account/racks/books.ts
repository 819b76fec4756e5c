import { defineBook } from '../../../journal/books.ts';
import type { InsidePlace } from '../../../journal/place.ts';

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

export const rackBooks = [racks, putAways] as const;
