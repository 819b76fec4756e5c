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
  /** Entry that found it, which ends the interval: a failed check, or a doubt of the calibration. */
  readonly through: number;
  readonly throughInstant: string;
  /** Entry of the last check, calibration or registration that was good; it begins the interval. */
  readonly from: number;
  readonly words: string;
  /** A check that failed, or a calibration that was found wrong. */
  readonly cause: 'check' | 'calibration';
};

export const suspectIntervals = defineBook<SuspectIntervalRow>({
  name: 'registers_suspect_interval',
  meaning:
    'Readings of an instrument in doubt: since its last good check, or since a wrong calibration.',
  key: ['instrument', 'through'],
});

export const instrumentCheckBooks = [instrumentChecks, suspectIntervals] as const;
