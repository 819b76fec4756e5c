import { defineBook } from '../../../journal/books.ts';
import type { Recorded } from '../books.ts';
import type { DecimalSignChosenBody, WorksheetTakenBody } from './bodies.ts';

/** The key of the one record of the book of decimal signs. */
export const theSign = 'plant';

export const decimalSigns = defineBook<DecimalSignChosenBody & Recorded & { readonly of: string }>({
  name: 'laboratory_decimal_sign',
  meaning: 'The decimal sign in tables that are handed out as text.',
  key: ['of'],
});

export type WorksheetRow = WorksheetTakenBody & Recorded & { readonly sha256: string };

export const worksheets = defineBook<WorksheetRow>({
  name: 'laboratory_worksheet',
  meaning: 'A worksheet that came back as a file, and what was recorded from it.',
  key: ['sha256', 'entry'],
});

export const exchangeBooks = [decimalSigns, worksheets] as const;
