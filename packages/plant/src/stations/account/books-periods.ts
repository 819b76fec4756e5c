import { defineBook } from '../../journal/books.ts';
import type { PeriodClosed } from './bodies-periods.ts';

/** A day or a month in which a shift was closed. */
export type PeriodRow = {
  readonly period: string;
  readonly length: 'day' | 'month';
  readonly state: 'open' | 'closed';
  /** The shifts that were closed, in the order of their closes. */
  readonly shifts: readonly string[];
  /** Instant of the newest close of a shift in it. */
  readonly lastClose: string;
  readonly entry: number | null;
  readonly instant: string | null;
  readonly author: string | null;
  readonly witness: string | null;
  readonly statement: PeriodClosed | null;
};

/** Days and months, open or closed. */
export const periods = defineBook<PeriodRow>({
  name: 'account_period',
  meaning: 'A day or month with the shifts closed in it, and what it was frozen with.',
  key: ['period'],
  indexes: { byState: ['length', 'state', 'period'], byLength: ['length', 'period'] },
});

export type CorrectionRow = {
  readonly period: string;
  readonly entry: number;
  /** The entry inside the period that was wrong. */
  readonly correctedEntry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  readonly explanation: string;
};

/** What was said later of a closed period. */
export const corrections = defineBook<CorrectionRow>({
  name: 'account_correction',
  meaning:
    'A later entry that says what was wrong in a closed period; it is dated when it was made.',
  key: ['period', 'entry'],
});

export type HandOverRow = {
  readonly shift: string;
  readonly arrivingShift: string;
  readonly entry: number;
  readonly instant: string;
  readonly leaving: string;
  readonly arriving: string;
  readonly uncountedPlaces: readonly string[];
  readonly openShifts: readonly string[];
  readonly openDifferences: readonly string[];
  readonly remark: string;
};

/** Shifts that one crew handed over to the next. */
export const handOvers = defineBook<HandOverRow>({
  name: 'account_hand_over',
  meaning: 'The handover of a shift: who left, who arrived, and what was open.',
  key: ['shift'],
});

/** The balance of grams of one close, as the series of its place takes it. */
export type BalanceRow = {
  readonly place: string;
  readonly pieceStandard: string;
  /** The entry that closed the shift. */
  readonly entry: number;
  readonly shift: string;
  /** Positive is missing; without what two people have signed for. */
  readonly differenceGrams: number;
  readonly openingStandardUncertaintyGrams: number;
  /** True when the opening stock is the ending stock of the row before. */
  readonly isCarried: boolean;
  readonly endingStandardUncertaintyGrams: number;
  readonly transferStandardUncertaintyGrams: number;
  readonly persistent: readonly { readonly source: string; readonly effectGrams: number }[];
};

/** The weighed balances of each place and piece standard, close by close. */
export const balanceSeriesBook = defineBook<BalanceRow>({
  name: 'account_balance_series',
  meaning: 'The balance of grams of one close at one place, with the errors behind it.',
  key: ['place', 'pieceStandard', 'entry'],
});

export type DriftRow = {
  readonly place: string;
  readonly pieceStandard: string;
  /** The series begins after this close. */
  readonly closing: number;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  readonly finding: string;
};

/** The newest answer to a drift at a place. */
export const drifts = defineBook<DriftRow>({
  name: 'account_drift',
  meaning:
    'What was found when the sums of a place signalled, and after which close its series begins anew.',
  key: ['place', 'pieceStandard'],
});

export const periodBooks = [periods, corrections, handOvers, balanceSeriesBook, drifts] as const;
