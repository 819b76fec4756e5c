import { entrySubsetsCalculation } from './entry-subsets.ts';
import { faultPosteriorCalculation } from './fault-posterior.ts';
import { foretoldAndFoundCalculation } from './foretold-and-found.ts';
import { searchOrderCalculation } from './looking.ts';
import { reweighingCalculation } from './reweighing.ts';

/** What the search for a missing piece offers to the catalogue, under the topic account. */
export const searchCalculations = [
  entrySubsetsCalculation,
  faultPosteriorCalculation,
  foretoldAndFoundCalculation,
  searchOrderCalculation,
  reweighingCalculation,
] as const;
