import { balanceSeriesCalculation } from './balance-series.ts';
import { metalBalanceCalculation } from './metal-balance.ts';

/** What the catalogue offers under the topic account. */
export const balanceCalculations = [balanceSeriesCalculation, metalBalanceCalculation] as const;
