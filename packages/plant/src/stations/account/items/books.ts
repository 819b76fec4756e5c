import { defineBook } from '../../../journal/books.ts';
import type { NumberedItem, NumbersCounted } from './bodies.ts';

/** Numbers that were received together. */
export type SeriesRow = {
  readonly series: string;
  readonly item: NumberedItem;
  readonly prefix: string;
  readonly digits: number;
  readonly first: number;
  readonly last: number;
  readonly document: string;
  readonly entry: number;
  readonly instant: string;
  /** The newest count; nothing before the first. */
  readonly count: (NumbersCounted & { entry: number; instant: string }) | null;
};

export const numberSeries = defineBook<SeriesRow>({
  name: 'account_number_series',
  meaning: 'Seals or labels with numbers of their own that were received together.',
  key: ['series'],
  indexes: { byItem: ['item', 'prefix', 'digits', 'first'] },
});

/** Numbers that can no longer be used. */
export type SpoiledRow = {
  readonly series: string;
  readonly first: number;
  readonly last: number;
  readonly reason: string;
  readonly entry: number;
  readonly author: string;
  readonly witness: string;
};

export const spoiledNumbers = defineBook<SpoiledRow>({
  name: 'account_spoiled_number',
  meaning: 'Numbers of a series that were destroyed, and why.',
  key: ['series', 'first'],
});

export const itemBooks = [numberSeries, spoiledNumbers] as const;
