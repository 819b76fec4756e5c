import { defineBook } from '../../../journal/books.ts';
import type { InstrumentChecked } from './bodies.ts';

export type InstrumentCheckRow = Readonly<InstrumentChecked> & {
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
};

export const instrumentChecks = defineBook<InstrumentCheckRow>({
  name: 'registers_instrument_check',
  meaning: 'An intermediate check of an instrument, passed or failed.',
  key: ['instrument', 'entry'],
});

export type SuspectIntervalRow = {
  readonly instrument: string;
  /** Entry of the failed check, which ends the interval. */
  readonly through: number;
  readonly throughInstant: string;
  /** Entry of the last check, calibration or registration that was good; it begins the interval. */
  readonly from: number;
  readonly words: string;
};

export const suspectIntervals = defineBook<SuspectIntervalRow>({
  name: 'registers_suspect_interval',
  meaning: 'Readings of an instrument between its last good check and a failed one, in doubt.',
  key: ['instrument', 'through'],
});

export const instrumentCheckBooks = [instrumentChecks, suspectIntervals] as const;
