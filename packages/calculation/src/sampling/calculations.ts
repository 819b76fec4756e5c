import { acceptZeroPlanCalculation } from './accept-zero-plan.ts';
import { attributePlanCalculation } from './attribute-plan.ts';
import { attributePlanSearchCalculation } from './attribute-plan-search.ts';
import { doubleAttributePlanCalculation } from './double-attribute-plan.ts';
import { drawCalculation } from './draw.ts';
import { earnedCreditCalculation } from './earned-credit.ts';
import { inspectionSeverityCalculation } from './inspection-severity.ts';
import { limitingQualityPlanCalculation } from './limiting-quality-plan.ts';
import { normalityCheckCalculation } from './normality-check.ts';
import { operatingCharacteristicCalculation } from './operating-characteristic.ts';
import { pickListCalculation } from './pick-list.ts';
import { reducedInspectionLimitCalculation } from './reduced-inspection-limit.ts';
import { sequentialPlanCalculation } from './sequential-plan.ts';
import { switchingSchemeCalculation } from './switching-scheme.ts';
import { variablesOperatingCharacteristicCalculation } from './variables-operating-characteristic.ts';
import { variablesPlanCalculation } from './variables-plan.ts';
import { variablesPlanSearchCalculation } from './variables-plan-search.ts';
import { variablesVerdictCalculation } from './variables-verdict.ts';

/** What the catalogue offers under the topic sampling. */
export const samplingCalculations = [
  acceptZeroPlanCalculation,
  attributePlanCalculation,
  attributePlanSearchCalculation,
  doubleAttributePlanCalculation,
  drawCalculation,
  earnedCreditCalculation,
  inspectionSeverityCalculation,
  limitingQualityPlanCalculation,
  operatingCharacteristicCalculation,
  pickListCalculation,
  reducedInspectionLimitCalculation,
  normalityCheckCalculation,
  variablesOperatingCharacteristicCalculation,
  variablesPlanCalculation,
  variablesPlanSearchCalculation,
  variablesVerdictCalculation,
  sequentialPlanCalculation,
  switchingSchemeCalculation,
] as const;
