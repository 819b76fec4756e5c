import { assayExchangeCalculation } from './assay-exchange.ts';
import { claimClockCalculation } from './claim-clock.ts';
import { laboratoryDifferenceCalculation } from './laboratory-difference.ts';
import { supplierBiasCalculation } from './supplier-bias.ts';

/** What the catalogue offers under the topic exchange. */
export const exchangeCalculations = [
  assayExchangeCalculation,
  claimClockCalculation,
  laboratoryDifferenceCalculation,
  supplierBiasCalculation,
] as const;
