import { defineBook } from '../../../journal/books.ts';
import type { Metal } from '../../../journal/place.ts';
import { reportedBooks } from './reported/books.ts';
import type { PortionParty, PortionState, Recipient } from './words.ts';

/** A sealed portion of a sample. */
export type PortionRow = {
  readonly portion: string;
  readonly melt: string;
  readonly consignment: string;
  readonly pieceStandard: string;
  readonly metal: Metal;
  readonly finenessDeclaredPartsPerMillion: number;
  readonly for: PortionParty;
  readonly blanks: readonly string[];
  /** Blanks that were sent with it and did not come back. */
  readonly gone: readonly string[];
  readonly grossMicrograms: number;
  readonly seal: string;
  readonly place: string;
  readonly keptUntil: string | null;
  readonly state: PortionState;
  /** UTC: since when it is so. */
  readonly since: string;
  readonly sealedAt: string;
  /** Entry that sealed it. */
  readonly entry: number;
  /** Document with which it was sent last; nothing before that. */
  readonly document: string | null;
};

export const portions = defineBook<PortionRow>({
  name: 'receiving_portion',
  meaning: 'A sealed portion of a sample: for whom, where it lies and until when it is kept.',
  key: ['portion'],
  indexes: {
    byMelt: ['melt', 'portion'],
    byState: ['state', 'portion'],
    bySeal: ['seal', 'portion'],
  },
});

/** A sending of a portion: what went with its note. */
export type SendingRow = {
  readonly portion: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  readonly to: Recipient;
  readonly document: string;
  readonly seal: string;
  readonly blanks: readonly string[];
  readonly grossMicrograms: number;
  readonly answerBy: string | null;
};

export const sendings = defineBook<SendingRow>({
  name: 'receiving_portion_sending',
  meaning: 'A portion that went to supplier or umpire: by whom, under which seal, until when.',
  key: ['portion', 'entry'],
});

export type BlankUse = 'measured' | 'cut' | 'returned';

/** What the laboratory did with a blank of a sample. */
export const blankUse = defineBook<{ blank: string; use: BlankUse; entry: number }>({
  name: 'receiving_blank_use',
  meaning: 'What the laboratory did with a blank of a sample: measured, cut, or brought back.',
  key: ['blank', 'use'],
});

export const portionBooks = [blankUse, portions, sendings, ...reportedBooks] as const;
