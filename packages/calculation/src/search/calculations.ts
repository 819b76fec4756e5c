import { faultPosteriorCalculation } from './fault-posterior.ts';
import { searchOrderCalculation } from './looking.ts';

/** What the search for a missing piece offers to the catalogue, under the topic account. */
export const searchCalculations = [faultPosteriorCalculation, searchOrderCalculation] as const;
