import type { Severity } from './attribute-tables.ts';
import { doubleTables } from './double-tables.ts';
import type { SamplingPlan } from './sampling-plan.ts';
import { singlePlan } from './single-plan.ts';
import { cellAfterArrows } from './table-cell.ts';

/** A plan of the double tables; one stage only where they send back to the single plan. */
export interface TabledPlan {
  readonly letter: string;
  readonly usesSinglePlan: boolean;
  readonly plan: SamplingPlan;
}

function stagesOfCell(samplePieces: number, cell: string): SamplingPlan {
  const numbers = cell.split('/').map(Number);
  const stage = (at: number) => ({
    sampleSizePieces: samplePieces,
    acceptanceNumber: numbers[at] as number,
    rejectionNumber: numbers[at + 1] as number,
  });
  return { first: stage(0), second: stage(2) };
}

/**
 * Double plan of a code letter: Tables III-A, III-B and III-C of MIL-STD-105E, with arrows followed.
 * Where the table says to use the single plan, the plan has one stage: that of the letter reached.
 *
 * @param letter code letter of the table, A to R; S exists for tightened inspection only
 * @param acceptanceQualityLimitPercent one of the twenty-six column heads, 0.010 to 1000
 * @param severity normal, tightened or reduced
 * @returns letter after arrows and the stages; the numbers of the second count both samples, and
 * under reduced inspection its rejection number may exceed its acceptance number by more than one
 * @throws DomainError for a letter or limit that the table does not have
 * Source: MIL-STD-105E (1989), Tables III-A, III-B and III-C and their footnotes
 * @example doublePlan('L', 1.5, 'normal').plan.second.rejectionNumber // 9
 */
export function doublePlan(
  letter: string,
  acceptanceQualityLimitPercent: number,
  severity: Severity,
): TabledPlan {
  const limit = acceptanceQualityLimitPercent;
  const found = cellAfterArrows(doubleTables[severity], `double ${severity}`, letter, limit);
  if (found.cell === '*') {
    const { letter: planLetter, ...first } = singlePlan(found.letter, limit, severity);
    return { letter: planLetter, usesSinglePlan: true, plan: { first } };
  }
  const plan = stagesOfCell(found.sampleSizePieces, found.cell);
  return { letter: found.letter, usesSinglePlan: false, plan };
}
