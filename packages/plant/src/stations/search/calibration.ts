import {
  type Chart,
  type ForetoldAndFoundInput,
  type ForetoldAndFoundOutput,
  foretoldAndFound,
  foretoldAndFoundCalculation,
  type LimitRule,
} from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import { foretoldCauses, looks, type SearchRow, searches } from './books.ts';
import { standsAsFound } from './look-evidence.ts';

/** What was foretold beside what was found, as a table and as drawn. */
export interface Compared {
  readonly table: ForetoldAndFoundOutput;
  readonly drawings: readonly (Chart | LimitRule)[];
}

/** Whether searches say what is true. */
export interface Calibration {
  readonly searches: {
    /** Ended with a confirmed cause, with what they had foretold: those that count. */
    readonly compared: number;
    /** Ended with a confirmed cause before foretold causes were recorded. */
    readonly withoutForetold: number;
    readonly leftUnresolved: number;
    /** Of those compared: the cause was none that the search had named. */
    readonly causeNotNamed: number;
  };
  /** Causes by probability when the search began; nothing before a search is compared. */
  readonly causes: Compared | null;
  /** Looks by the chance that they would find something; of every search, however it ended. */
  readonly looks: Compared | null;
  readonly words: string;
}

const bandEnds = [0.01, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.95, 0.99];

type Case = ForetoldAndFoundInput['cases'][number];

/** So many cases are compared at most, the newest. */
const mostCases = 20_000;

function compared(cases: readonly Case[]): Compared | null {
  if (cases.length === 0) return null;
  const input = { cases: cases.slice(-mostCases), bandEnds };
  const table = foretoldAndFound(input);
  return { table, drawings: foretoldAndFoundCalculation.draw?.(input, table) ?? [] };
}

/** Each cause that a search with a confirmed cause had named, and whether it was the one. */
async function casesOf(books: BookReader, search: SearchRow): Promise<readonly Case[]> {
  const rows = await books.select(foretoldCauses, { prefix: [search.search] });
  return rows.map(({ name, probability }) => ({
    probability,
    isFound: name === search.ended?.cause,
  }));
}

async function lookCases(books: BookReader, rows: readonly SearchRow[]): Promise<readonly Case[]> {
  const cases: Case[] = [];
  for (const { search } of rows) {
    for (const look of await books.select(looks, { prefix: [search] })) {
      const { probabilityBefore, seenIfThere } = look;
      cases.push({ probability: probabilityBefore * seenIfThere, isFound: standsAsFound(look) });
    }
  }
  return cases;
}

function wordsOf(counts: Calibration['searches'], causes: Compared | null): string {
  const { compared: count, leftUnresolved, withoutForetold } = counts;
  const outside = [
    ...(leftUnresolved > 0
      ? [
          `${leftUnresolved} left unresolved ${leftUnresolved === 1 ? 'stands' : 'stand'} outside: what was foretold there cannot be judged, and may have been worse`,
        ]
      : []),
    ...(withoutForetold > 0
      ? [`${withoutForetold} ended before what was foretold was recorded`]
      : []),
  ];
  const end = outside.length > 0 ? ` ${outside.join('; ')}.` : '';
  if (!causes) return `No search has ended with a confirmed cause that can be compared yet.${end}`;
  const searched =
    count === 1 ? '1 search with a confirmed cause' : `${count} searches with a confirmed cause`;
  return `${searched}. ${causes.table.words}${end}`;
}

/** Compares what searches foretold with what was found; only confirmed causes count as found. */
export async function calibrationOf(books: BookReader): Promise<Calibration> {
  const rows = await books.select(searches, { by: 'byEntry' });
  const confirmed = rows.filter(({ state }) => state === 'cause confirmed');
  const cases: Case[] = [];
  let withoutForetold = 0;
  let causeNotNamed = 0;
  for (const row of confirmed) {
    const of = await casesOf(books, row);
    if (of.length === 0) withoutForetold += 1;
    else if (!of.some(({ isFound }) => isFound)) causeNotNamed += 1;
    cases.push(...of);
  }
  const counts = {
    compared: confirmed.length - withoutForetold,
    withoutForetold,
    leftUnresolved: rows.filter(({ state }) => state === 'left unresolved').length,
    causeNotNamed,
  };
  const causes = compared(cases);
  return {
    searches: counts,
    causes,
    looks: compared(await lookCases(books, rows)),
    words: wordsOf(counts, causes),
  };
}
