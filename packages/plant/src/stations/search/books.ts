import { defineBook } from '../../journal/books.ts';
import type { LookTaken, SearchEnded, SearchOpened } from './bodies.ts';

type SearchState = 'open' | SearchEnded['end'];

export type SearchRow = {
  readonly search: string;
  readonly state: SearchState;
  readonly pieceStandard: string;
  /** The shift whose tallies differ. */
  readonly shift: string;
  readonly openedEntry: number;
  readonly openedInstant: string;
  readonly openedBy: string;
  readonly residuals: SearchOpened['residuals'];
  readonly minutesLooked: number;
  readonly ended: {
    readonly entry: number;
    readonly instant: string;
    readonly author: string;
    readonly witness: string;
    readonly cause: string | null;
    readonly kind: string | null;
    readonly proof: string;
    readonly probabilityPredicted: number | null;
    readonly rankPredicted: number | null;
  } | null;
};

/** Searches, open and ended. */
export const searches = defineBook<SearchRow>({
  name: 'search_search',
  meaning: 'A search for pieces that are missing or too many, and how it ended.',
  key: ['search'],
  indexes: { byState: ['state', 'openedEntry'], byEntry: ['openedEntry'] },
});

export type LookRow = {
  readonly search: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly look: string;
  readonly title: string;
  readonly outcome: LookTaken['outcome'];
  readonly words: string;
  readonly probabilityBefore: number;
  readonly seenIfThere: number;
  readonly minutes: number;
  readonly finding?: NonNullable<LookTaken['finding']>;
  readonly falseSightingProbability?: number;
  /** The look that was mistaken, as this one says. */
  readonly mistaken?: number;
  readonly rankedAfter?: number;
  /** The later look that says that this one was mistaken. */
  readonly mistakenIn?: number;
};

/** Looks that were taken. */
export const looks = defineBook<LookRow>({
  name: 'search_look',
  meaning: 'A look taken in a search, what was seen, and what the search had foretold of it.',
  key: ['search', 'entry'],
});

export type ForetoldRow = {
  readonly search: string;
  readonly name: string;
  readonly kind: string;
  readonly probability: number;
};

/** What searches foretold. */
export const foretoldCauses = defineBook<ForetoldRow>({
  name: 'search_foretold',
  meaning: 'A cause that a search named before anybody looked, and with which probability.',
  key: ['search', 'name'],
});

export type KindTallyRow = {
  readonly kind: string;
  readonly opportunities: number;
  readonly confirmed: number;
};

/** What is known of each kind of fault. */
export const kindTallies = defineBook<KindTallyRow>({
  name: 'search_kind',
  meaning: 'How often a kind of fault could have happened, and how often it was confirmed.',
  key: ['kind'],
});

export type CountedRow = { readonly plant: string; readonly entry: number };

/** Up to which entry opportunities are counted. */
export const counted = defineBook<CountedRow>({
  name: 'search_counted',
  meaning: 'The entry up to which opportunities for faults have been counted.',
  key: ['plant'],
});

export const searchBooks = [searches, looks, foretoldCauses, kindTallies, counted] as const;
