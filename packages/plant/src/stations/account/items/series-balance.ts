import type { BookReader } from '../../../journal/books.ts';
import { threads } from '../../../journal/core-books.ts';
import { numberedItems } from './bodies.ts';
import { type SeriesRow, type SpoiledRow, spoiledNumbers } from './books.ts';

/** What became of the numbers of one series. */
export interface SeriesBalance {
  readonly series: SeriesRow;
  readonly received: number;
  readonly used: number;
  readonly spoiled: number;
  readonly spoils: readonly SpoiledRow[];
  /** Received less used less spoiled: what should be left. */
  readonly left: number;
  /** Numbers that are in use although they were spoiled. */
  readonly usedThoughSpoiled: readonly string[];
}

/** The number as it stands on the seal or label. */
export function numberText(series: Pick<SeriesRow, 'prefix' | 'digits'>, number: number): string {
  return `${series.prefix}${String(number).padStart(series.digits, '0')}`;
}

/** The numbers of a series that entries speak of, ascending. */
export async function usedNumbers(
  books: BookReader,
  series: SeriesRow,
  range: { readonly first: number; readonly last: number } = series,
): Promise<readonly number[]> {
  const rows = await books.select(threads, {
    prefix: [numberedItems[series.item]],
    from: numberText(series, range.first),
    // Text just behind the last number: no id has a character below the space.
    below: `${numberText(series, range.last)}\u0001`,
  });
  const { prefix, digits } = series;
  const isOfSeries = (id: string) =>
    id.length === prefix.length + digits &&
    id.startsWith(prefix) &&
    /^\d+$/.test(id.slice(prefix.length));
  const numbers = rows.flatMap(({ id }) =>
    isOfSeries(id) ? [Number(id.slice(prefix.length))] : [],
  );
  return [...new Set(numbers)];
}

/** Counts what was received, used and spoiled of a series. */
export async function seriesBalance(books: BookReader, series: SeriesRow): Promise<SeriesBalance> {
  const spoils = await books.select(spoiledNumbers, { prefix: [series.series] });
  const used = await usedNumbers(books, series);
  const isSpoiled = (number: number) =>
    spoils.some(({ first, last }) => number >= first && number <= last);
  const received = series.last - series.first + 1;
  const spoiled = spoils.reduce((sum, { first, last }) => sum + last - first + 1, 0);
  const both = used.filter(isSpoiled);
  return {
    series,
    received,
    used: used.length,
    spoiled,
    spoils,
    left: received - used.length - spoiled + both.length,
    usedThoughSpoiled: both.map((number) => numberText(series, number)),
  };
}
