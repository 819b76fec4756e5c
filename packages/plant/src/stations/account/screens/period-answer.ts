import type { PeriodClosed } from '../bodies-periods.ts';
import type { CorrectionRow } from '../books-periods.ts';
import type { ListedPeriod } from '../period-list.ts';

/** What the question `periods` answers. */
export interface PeriodsAnswer {
  readonly presentShift: string;
  readonly periods: readonly ListedPeriod[];
}

/** A closed period as the question `period` answers it. */
export interface ShownPeriod
  extends Pick<
    PeriodClosed,
    | 'firstEntry'
    | 'lastEntry'
    | 'lastEntryLeafHash'
    | 'treeHash'
    | 'shifts'
    | 'days'
    | 'openDifferences'
  > {
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string;
  /** Nothing for those who count. */
  readonly lines: PeriodClosed['lines'] | null;
  readonly differences: PeriodClosed['differences'] | null;
}

/** What the question `period` answers. */
export type PeriodAnswer =
  | { readonly period: string; readonly isKnown: false }
  | {
      readonly period: string;
      readonly isKnown: true;
      readonly length: 'day' | 'month';
      readonly state: ListedPeriod['state'];
      readonly shifts: readonly string[];
      readonly seesBook: boolean;
      readonly closed: ShownPeriod | null;
      readonly corrections: readonly (CorrectionRow & { readonly name: string })[];
    };

/** What a state asks for, in the words of a sign. */
export const stateTones = {
  closed: 'done',
  runs: 'plain',
  'shift open': 'waits',
  'day open': 'waits',
  'to be closed': 'look',
} as const satisfies Record<ListedPeriod['state'], string>;
