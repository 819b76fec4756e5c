import { requireDomain } from '../quantity/domain.ts';
import { acceptanceQualityLimits, type Severity } from './attribute-tables.ts';
import { doubleTables } from './double-tables.ts';
import type { SamplingPlan } from './sampling-plan.ts';
import { singlePlan } from './single-plan.ts';

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
  const rows = doubleTables[severity].map((row) => row.split(' '));
  const columns: readonly number[] = acceptanceQualityLimits;
  const column = columns.indexOf(acceptanceQualityLimitPercent);
  requireDomain(column >= 0, {
    field: 'acceptanceQualityLimitPercent',
    value: acceptanceQualityLimitPercent,
    accepted: `one of ${acceptanceQualityLimits.join(', ')}`,
  });
  let index = rows.findIndex((row) => row[0] === letter);
  requireDomain(index >= 0, {
    field: 'letter',
    value: letter,
    accepted: rows.map((row) => row[0]).join(', '),
  });
  // No column has arrows that face each other, so that each step leads nearer to a plan.
  for (;;) {
    const [rowLetter, size, ...cells] = rows[index] ?? [];
    const cell = cells[column];
    if (rowLetter === undefined || cell === undefined) {
      throw new Error(`an arrow leads out of the double ${severity} table at letter ${letter}`);
    }
    if (cell === '*') {
      const { letter: planLetter, ...first } = singlePlan(
        rowLetter,
        acceptanceQualityLimitPercent,
        severity,
      );
      return { letter: planLetter, usesSinglePlan: true, plan: { first } };
    }
    if (cell !== 'v' && cell !== '^') {
      return { letter: rowLetter, usesSinglePlan: false, plan: stagesOfCell(Number(size), cell) };
    }
    index += cell === 'v' ? 1 : -1;
  }
}
