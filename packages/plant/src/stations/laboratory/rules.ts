import { answerChartSignal } from './answer-chart-signal.ts';
import { checkResult, sendBackResult } from './check-result.ts';
import { cutBlanks } from './cut-blanks.ts';
import { discardDetermination } from './discard-determination.ts';
import { correctMeasurement, measureBlanks } from './measure-blanks.ts';
import { recordCupellation } from './record-cupellation.ts';
import { recordDifference } from './record-difference.ts';
import { returnBlanks } from './return-blanks.ts';
import { returnMelt } from './return-melt.ts';
import { ruleMelt } from './rule-melt.ts';
import { signResult } from './sign-result.ts';

/** The commands of the laboratory. */
export const laboratoryCommands = [
  measureBlanks,
  correctMeasurement,
  cutBlanks,
  returnBlanks,
  recordCupellation,
  recordDifference,
  discardDetermination,
  signResult,
  checkResult,
  sendBackResult,
  ruleMelt,
  returnMelt,
  answerChartSignal,
] as const;
