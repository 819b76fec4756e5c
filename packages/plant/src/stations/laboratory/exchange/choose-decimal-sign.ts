import type { BookReader } from '../../../journal/books.ts';
import { defineCommand, draft } from '../../../journal/station.ts';
import type { NumberForm } from '../../../tables/number-form.ts';
import { decimalSignChosen } from './bodies.ts';
import { decimalSigns, theSign } from './books.ts';
import { DecimalSignChosen } from './entries.ts';

/** The decimal sign of the plant's tables: a point until another one is chosen. */
export async function decimalSignOf(books: BookReader): Promise<NumberForm['decimalMark']> {
  return (await books.get(decimalSigns, theSign))?.decimalMark ?? 'point';
}

/** Chooses the decimal sign of tables that are handed out as text. */
export const chooseDecimalSign = defineCommand({
  command: 'choose-decimal-sign',
  station: 'laboratory',
  title: 'Choose the decimal sign of tables',
  input: decimalSignChosen,
  roles: ['chief assayer'],
  signature: 'none',
  facts: async () => undefined,
  decide: (input) => ({ entries: [draft(DecimalSignChosen, input)] }),
});
