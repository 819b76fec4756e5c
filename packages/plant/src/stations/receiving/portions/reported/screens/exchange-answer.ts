import type { AssayExchangeOutput } from '@cupel/calculation';
import type { Recipient } from '../../words.ts';
import type { PortionResultReportedBody } from '../bodies.ts';
import type { ExchangeSettlement, ExchangeState } from '../books.ts';
import type { ExchangeLimit } from '../compare.ts';

export interface ShownReport {
  readonly portion: string;
  readonly from: Recipient;
  readonly entry: number;
  readonly instant: string;
  readonly document: string;
  readonly reportedOn: string;
  /** Nothing while they are under cover. */
  readonly figures: Pick<
    PortionResultReportedBody,
    'fineness' | 'uncertainty' | 'splittingLimit' | 'method'
  > | null;
}

/** What the question `melt-exchange` answers. */
export interface ExchangeAnswer {
  readonly melt: string;
  readonly state: ExchangeState;
  readonly since: string;
  readonly isSigned: boolean;
  readonly own: { readonly text: string; readonly standardUncertaintyPerMille: number } | null;
  readonly reports: readonly ShownReport[];
  readonly comparison: {
    readonly limit: ExchangeLimit;
    readonly output: AssayExchangeOutput;
  } | null;
  readonly settlement: ExchangeSettlement | null;
  readonly umpirePortions: readonly { readonly portion: string; readonly state: string }[];
}
