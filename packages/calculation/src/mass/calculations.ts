import { airDensityCalculation } from './air-density.ts';
import { balanceCheckCalculation } from './balance-check.ts';
import { balanceUncertaintyCalculation } from './balance-uncertainty.ts';
import { buoyancyCalculation } from './buoyancy.ts';
import { convertMassCalculation } from './convert-mass.ts';
import { fineMassCalculation } from './fine-mass.ts';
import { leastWeighableMassCalculation } from './least-weighable-mass.ts';
import { massComparisonCalculation } from './mass-comparison.ts';
import { scaleLimitsCalculation } from './scale-limits.ts';
import { weightDriftCalculation } from './weight-drift.ts';
import { weightLimitsCalculation } from './weight-limits.ts';

/** What the catalogue offers under the topic mass. */
export const massCalculations = [
  airDensityCalculation,
  balanceCheckCalculation,
  balanceUncertaintyCalculation,
  buoyancyCalculation,
  convertMassCalculation,
  fineMassCalculation,
  leastWeighableMassCalculation,
  massComparisonCalculation,
  scaleLimitsCalculation,
  weightDriftCalculation,
  weightLimitsCalculation,
] as const;
