import { defineBook } from '../../../../journal/books.ts';
import type { ExchangeSettledBody, PortionResultReportedBody } from './bodies.ts';

type Recorded = {
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
};

export type ReportedResult = PortionResultReportedBody &
  Recorded & {
    /** Entry of the report that corrects this one. */
    readonly correctedBy: number | null;
  };

export const reportedResults = defineBook<ReportedResult>({
  name: 'receiving_reported_result',
  meaning:
    "What supplier or umpire found in a portion; shown to nobody before the plant's own result of the melt is signed.",
  key: ['melt', 'entry'],
});

/** The plant's own signed result of a melt. */
export type OwnResult = {
  readonly melt: string;
  readonly finenessPerMille: number;
  readonly standardUncertaintyPerMille: number;
  readonly entry: number;
};

export const ownResults = defineBook<OwnResult>({
  name: 'receiving_own_result',
  meaning: "The plant's own signed fineness of a melt, to be exchanged with the other side's.",
  key: ['melt'],
});

export type ExchangeSettlement = ExchangeSettledBody & Recorded & { readonly witness: string };

export type ExchangeState =
  | 'under cover'
  | 'umpire only'
  | 'no limit'
  | 'within'
  | 'apart'
  | 'umpire has spoken'
  | 'settled';

/** How the results of a melt stand to one another. */
export type ExchangeRow = {
  readonly melt: string;
  readonly state: ExchangeState;
  /** UTC: since when it stands so. */
  readonly since: string;
  readonly settlement: ExchangeSettlement | null;
};

export const exchanges = defineBook<ExchangeRow>({
  name: 'receiving_exchange',
  meaning: 'How the results of plant, supplier and umpire for a melt stand to one another.',
  key: ['melt'],
  indexes: { byState: ['state', 'melt'] },
});

export const reportedBooks = [exchanges, ownResults, reportedResults] as const;
