import { combineResultsCalculation } from './combine-results.ts';
import { monteCarloCalculation } from './monte-carlo.ts';
import { uncertaintyBudgetCalculation } from './uncertainty-budget.ts';

/** What the catalogue offers under the topic uncertainty. */
export const uncertaintyCalculations = [
  combineResultsCalculation,
  monteCarloCalculation,
  uncertaintyBudgetCalculation,
] as const;
