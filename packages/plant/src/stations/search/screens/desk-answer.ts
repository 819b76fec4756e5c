import type { LookRow, SearchRow } from '../books.ts';
import type { Ranking } from '../ranking.ts';

/** What the question `searches` answers. */
export interface SearchesAnswer {
  readonly seesBook: boolean;
  readonly searches: readonly SearchRow[];
  readonly searchable: readonly {
    readonly pieceStandard: string;
    readonly differing: readonly { readonly place: string; readonly pieces: number }[];
  }[];
  readonly kinds: readonly KindAnswer[];
}

/** What is known of a kind of fault. */
export interface KindAnswer {
  readonly kind: string;
  readonly title: string;
  readonly opportunity: string;
  readonly assumedRate: number;
  readonly opportunities: number;
  readonly confirmed: number;
  readonly rate: number;
}

/** What the question `search` answers; nothing when there is no such search. */
export type SearchAnswer = {
  readonly seesBook: boolean;
  readonly search: SearchRow;
  readonly looks: readonly LookRow[];
  readonly ranking: Ranking | null;
} | null;

/** Pieces that are missing or too many, in words. */
export function residualWords(pieces: number): string {
  const count = Math.abs(pieces);
  return `${count} ${count === 1 ? 'piece' : 'pieces'} ${pieces > 0 ? 'missing' : 'too many'}`;
}
