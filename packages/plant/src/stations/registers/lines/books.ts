import { defineBook } from '../../../journal/books.ts';
import type { InstrumentConnected } from './bodies.ts';

export type InstrumentLineRow = InstrumentConnected & {
  /** The port or the address, by which no two instruments share a line. */
  readonly end: string;
  readonly entry: number;
  readonly since: string;
};

export const instrumentLines = defineBook<InstrumentLineRow>({
  name: 'registers_instrument_line',
  meaning: 'The line on which an instrument is read, and what its lines look like.',
  key: ['instrument'],
  indexes: { byEnd: ['end', 'instrument'] },
});

export const lineBooks = [instrumentLines] as const;
