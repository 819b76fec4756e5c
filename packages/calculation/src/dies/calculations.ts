import { dieFamilyComparisonCalculation } from './die-family-comparison.ts';
import { dieFaultOnsetCalculation } from './die-fault-onset.ts';
import { dieLifeWeibullCalculation } from './die-life-weibull.ts';
import { dieRemainingLifeCalculation } from './die-remaining-life.ts';
import { dieSurvivalCalculation } from './die-survival.ts';
import { diesForOrderCalculation } from './dies-for-order.ts';

/** What the catalogue offers under the topic dies. */
export const diesCalculations = [
  dieFamilyComparisonCalculation,
  dieFaultOnsetCalculation,
  dieLifeWeibullCalculation,
  dieRemainingLifeCalculation,
  dieSurvivalCalculation,
  diesForOrderCalculation,
] as const;
