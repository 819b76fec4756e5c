import type { Drawing } from '../../../workbench/index.ts';
import type { ChartAnswerRow, ChartPointRow, ChartRow } from '../chart-books.ts';
import type { ChartLimits, ChartSignal } from '../chart-reading.ts';

/** A control chart as the question `control-charts` lists it. */
export interface ChartLine {
  readonly chart: string;
  readonly title: string;
  readonly unit: string;
  readonly pieceStandard: string;
  readonly points: number;
  readonly newestInstant: string;
  readonly newestValue: number | null;
  readonly limits: ChartLimits | null;
  readonly openSignals: readonly string[];
}

/** What the question `control-chart` answers. */
export interface ChartAnswer extends ChartRow {
  readonly title: string;
  readonly unit: string;
  readonly meaning: string;
  readonly pieceStandardTitle: string;
  readonly shown: readonly ChartPointRow[];
  readonly reading:
    | { readonly state: 'no limits'; readonly words: string }
    | {
        readonly state: 'judged';
        readonly limits: ChartLimits;
        readonly signals: readonly ChartSignal[];
        readonly drawings: readonly Drawing[];
        readonly calculations: readonly string[];
      };
  readonly open: readonly ChartSignal[];
  readonly answers: readonly ChartAnswerRow[];
}
