import type { BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import { followMeltReturn, followRuling } from './difference/read-model.ts';
import { noteSigned } from './documents/read-model.ts';
import { noteBlankUses } from './portions/read-model.ts';
import { noteOwnResult } from './portions/reported/read-model.ts';

/**
 * What receiving learns from the laboratory, which lies downstream: its entries fold into these books
 * of receiving as well, so that receiving never looks into the laboratory's own.
 */
type Told = Pick<RecordedEntry, 'number' | 'instant'>;

/** The chief assayer ruled on a melt: a refused one is a difference with its supplier. */
export async function noteRuling(
  books: BookWriter,
  entry: Told,
  ruled: { readonly melt: string; readonly isRefused: boolean },
): Promise<void> {
  await followRuling(books, entry, ruled);
}

/** What was left of a refused melt at receiving went back to its supplier. */
export async function noteMeltReturned(
  books: BookWriter,
  entry: Told,
  returned: { readonly melt: string; readonly pieces: number; readonly grossMicrograms: number },
): Promise<void> {
  const { melt, pieces, grossMicrograms } = returned;
  await followMeltReturn(books, entry, {
    melt,
    gone: { pieces, netMicrograms: grossMicrograms },
  });
}

/** The plant's result of a melt was signed, or a signed one was sent back. */
export async function noteResult(
  books: BookWriter,
  entry: Told,
  result: {
    readonly melt: string;
    readonly isSigned: boolean;
    /** What was signed; nothing where none stands. */
    readonly own?: {
      readonly finenessPerMille: number;
      readonly standardUncertaintyPerMille: number;
    };
  },
): Promise<void> {
  const { melt, isSigned, own = null } = result;
  await noteSigned(books, entry, { melt, isSigned });
  await noteOwnResult(books, entry, { melt, own });
}

/** Blanks of a sample were measured, cut, or brought back to receiving. */
export async function noteBlanks(
  books: BookWriter,
  entry: Told,
  of: { readonly blanks: readonly string[]; readonly use: 'measured' | 'cut' | 'returned' },
): Promise<void> {
  await noteBlankUses(books, entry, of);
}
