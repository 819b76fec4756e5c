import { requireDomain } from '../quantity/domain.ts';
import {
  codeLetterRows,
  type InspectionLevel,
  inspectionLevels,
  masterTables,
  type Severity,
} from './attribute-tables.ts';
import { cellAfterArrows } from './table-cell.ts';

/** A single sampling plan of the tables. */
export interface SinglePlan {
  readonly letter: string;
  readonly sampleSizePieces: number;
  readonly acceptanceNumber: number;
  readonly rejectionNumber: number;
}

/**
 * Sample size code letter of a lot: Table I of MIL-STD-105E.
 *
 * @param lotSizePieces whole number of 2 or more; Table I has no row for a lot of one piece
 * @param level inspection level, S-1 to S-4 or I to III
 * @returns one letter, A to R without I and O
 * @throws DomainError for a lot size below 2 or not whole
 * Source: MIL-STD-105E (1989), Table I
 * @example codeLetter(7000, 'II') // 'L'
 */
export function codeLetter(lotSizePieces: number, level: InspectionLevel): string {
  const accepted = 'a whole number of 2 pieces or more';
  requireDomain(Number.isSafeInteger(lotSizePieces) && lotSizePieces >= 2, {
    field: 'lotSizePieces',
    value: lotSizePieces,
    accepted,
  });
  const row = codeLetterRows.find((candidate) => lotSizePieces <= candidate.lotMaximum);
  const letter = row?.letters[inspectionLevels.indexOf(level)];
  if (letter === undefined) throw new Error(`Table I has no letter for level ${level}`);
  return letter;
}

/**
 * Single plan of a code letter: Tables II-A, II-B and II-C of MIL-STD-105E, with arrows followed.
 * Where the cell holds an arrow the letter, the sample size and both numbers are those of the plan
 * that the arrow leads to.
 *
 * @param letter code letter of the table, A to R; S exists for tightened inspection only
 * @param acceptanceQualityLimitPercent one of the twenty-six column heads, 0.010 to 1000
 * @param severity normal, tightened or reduced
 * @returns the plan; under reduced inspection the rejection number may exceed the acceptance
 * number by more than one
 * @throws DomainError for a letter or limit that the table does not have
 * Source: MIL-STD-105E (1989), Tables II-A, II-B and II-C and their footnotes
 * @example singlePlan('E', 0.4, 'normal').sampleSizePieces // 32
 */
export function singlePlan(
  letter: string,
  acceptanceQualityLimitPercent: number,
  severity: Severity,
): SinglePlan {
  const { cell, ...row } = cellAfterArrows(
    masterTables[severity],
    severity,
    letter,
    acceptanceQualityLimitPercent,
  );
  const [acceptance, rejection] = cell.split('/');
  return { ...row, acceptanceNumber: Number(acceptance), rejectionNumber: Number(rejection) };
}
