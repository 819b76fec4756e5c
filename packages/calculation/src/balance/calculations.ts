import { metalBalanceCalculation } from './metal-balance.ts';

/** What the catalogue offers under the topic account. */
export const balanceCalculations = [metalBalanceCalculation] as const;
