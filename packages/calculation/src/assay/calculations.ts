import { calibrationLineCalculation } from './calibration-line.ts';
import { conductivityScreenCalculation } from './conductivity-screen.ts';
import { contentsFromSignalsCalculation } from './contents-from-signals.ts';
import { cupellationCalculation } from './cupellation.ts';
import { cupellationChargeCalculation } from './cupellation-charge.ts';
import { cupellationRunCalculation } from './cupellation-run.ts';
import { densityScreenCalculation } from './density-screen.ts';
import { detectionLimitCalculation } from './detection-limit.ts';
import { endPointCalculation } from './end-point.ts';
import { finenessByDifferenceCalculation } from './fineness-by-difference.ts';
import { fluorescenceScreenCalculation } from './fluorescence-screen.ts';
import { impurityTableCheckCalculation } from './impurity-table-check.ts';
import { leastSquaresCalculation } from './least-squares.ts';
import { lotFinenessCalculation } from './lot-fineness.ts';
import { meltFinenessCalculation } from './melt-fineness.ts';
import { methodScopeCalculation } from './method-scope.ts';
import { replicateAcceptanceCalculation } from './replicate-acceptance.ts';
import { spectrometricDifferenceCalculation } from './spectrometric-difference.ts';
import { titrantFactorCalculation } from './titrant-factor.ts';
import { titrationCalculation } from './titration.ts';
import { titrationByFactorCalculation } from './titration-by-factor.ts';
import { twoSolutionSumCalculation } from './two-solution-sum.ts';

/** What the catalogue offers under the topic assay. */
export const assayCalculations = [
  calibrationLineCalculation,
  conductivityScreenCalculation,
  contentsFromSignalsCalculation,
  cupellationCalculation,
  cupellationChargeCalculation,
  cupellationRunCalculation,
  densityScreenCalculation,
  detectionLimitCalculation,
  endPointCalculation,
  finenessByDifferenceCalculation,
  fluorescenceScreenCalculation,
  impurityTableCheckCalculation,
  leastSquaresCalculation,
  lotFinenessCalculation,
  meltFinenessCalculation,
  methodScopeCalculation,
  replicateAcceptanceCalculation,
  spectrometricDifferenceCalculation,
  titrantFactorCalculation,
  titrationByFactorCalculation,
  titrationCalculation,
  twoSolutionSumCalculation,
] as const;
