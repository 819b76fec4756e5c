import type { ReagentLotRow, TitrantFactorRow } from '../books.ts';

/** What the question `reagent-lots` answers. */
export interface LotsAnswer {
  readonly day: string;
  readonly lots: readonly ReagentLotRow[];
}

/** What the question `reagent-lot` answers. */
export interface LotAnswer {
  readonly day: string;
  readonly row: ReagentLotRow;
  readonly factors: readonly TitrantFactorRow[];
}
