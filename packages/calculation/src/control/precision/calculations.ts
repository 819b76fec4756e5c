import { duplicatePrecisionCalculation } from './duplicate-precision.ts';
import { gaugeStudyCalculation } from './gauge-study.ts';
import { homogeneityCalculation } from './homogeneity.ts';
import { inspectorAgreementCalculation } from './inspector-agreement.ts';
import { outlierTestsCalculation } from './outlier-tests.ts';
import { precisionExperimentCalculation } from './precision-experiment.ts';
import { proficiencyScoresCalculation } from './proficiency-scores.ts';
import { repeatabilityLevelsCalculation } from './repeatability-levels.ts';
import { scoreHistoryCalculation } from './score-history.ts';
import { youdenPairsCalculation } from './youden-pairs.ts';

/** What the catalogue offers on the precision of results and of the people and gauges behind them. */
export const precisionCalculations = [
  duplicatePrecisionCalculation,
  gaugeStudyCalculation,
  homogeneityCalculation,
  inspectorAgreementCalculation,
  outlierTestsCalculation,
  precisionExperimentCalculation,
  proficiencyScoresCalculation,
  repeatabilityLevelsCalculation,
  scoreHistoryCalculation,
  youdenPairsCalculation,
] as const;
