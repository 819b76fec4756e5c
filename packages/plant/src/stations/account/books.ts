import { defineBook } from '../../journal/books.ts';
import type { ClosingPlace, TallyLine } from './bodies.ts';
import { periodBooks } from './books-periods.ts';

/** What the postings say lies at a place, of one piece standard, all melts together. */
export type Standing = {
  readonly metal: string;
  readonly pieceStandard: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
};

export type TallyRow = {
  readonly tally: number;
  readonly place: string;
  readonly shift: string;
  readonly instant: string;
  readonly author: string;
  readonly lines: readonly TallyLine[];
  /** The counts of racks of which it is the sum. */
  readonly racks?: readonly {
    readonly rack: string;
    readonly count: number;
    readonly author: string;
  }[];
  /** The book at the moment of the tally; kept out of sight of those who tally. */
  readonly book: readonly Standing[];
};

/** Tallies with the book beside them as it stood at that entry. */
export const tallies = defineBook<TallyRow>({
  name: 'account_tally',
  meaning: 'What was found at a place, and what the postings said at that moment.',
  key: ['tally'],
  indexes: { byPlace: ['place', 'tally'] },
});

export type ClosingRow = {
  readonly shift: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  readonly firstEntry: number;
  readonly lastEntry: number;
  readonly places: readonly ClosingPlace[];
};

/** Shifts that are closed. */
export const closings = defineBook<ClosingRow>({
  name: 'account_closing',
  meaning: 'The close of a shift: book, tally and difference of each place.',
  key: ['shift'],
  indexes: { byEntry: ['entry'] },
});

export type DifferenceRow = {
  readonly difference: string;
  /** Pieces (and perhaps grams) that two people signed and posted, or grams that only stand out. */
  readonly form: 'signed' | 'grams only';
  readonly entry: number;
  readonly instant: string;
  readonly shift: string;
  readonly place: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly melt: string | null;
  /** Null for grams only, which were never posted. */
  readonly finenessDeclaredPartsPerMillion: number | null;
  /** Negative where metal is missing. */
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly fineMicrograms: number;
  /** What moved at the place by estimate in that shift, beside the weighed metal of the difference. */
  readonly grossMicrogramsEstimated: number;
  readonly explanation: string;
  readonly author: string;
  readonly witness: string;
  readonly state: string;
  readonly resolvedEntry: number | null;
  readonly resolution: string | null;
};

/** Differences that were signed or that stand out, until they are explained and after. */
export const differences = defineBook<DifferenceRow>({
  name: 'account_difference',
  meaning: 'Metal missing or too much at a place, who signed for it, and how it ended.',
  edition: 2,
  key: ['difference'],
  indexes: { byState: ['state', 'entry'], byEntry: ['entry'] },
});

export const accountBooks = [tallies, closings, differences, ...periodBooks] as const;
