import { bestTargetMassCalculation } from './best-target-mass.ts';
import { giveawayCalculation } from './giveaway.ts';
import { pieceConformityCalculation } from './piece-conformity.ts';
import { secondModeCalculation } from './second-mode.ts';
import { sorterEdgeCalculation } from './sorter-edge.ts';
import { truncatedNormalCalculation } from './truncated-normal.ts';
import { twoComponentsCalculation } from './two-components.ts';
import { weightStatisticsCalculation } from './weight-statistics.ts';

/** What the catalogue offers under the topic weights. */
export const weightsCalculations = [
  bestTargetMassCalculation,
  giveawayCalculation,
  pieceConformityCalculation,
  secondModeCalculation,
  sorterEdgeCalculation,
  truncatedNormalCalculation,
  twoComponentsCalculation,
  weightStatisticsCalculation,
] as const;
