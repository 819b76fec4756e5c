import { requireDomain } from '../quantity/domain.ts';
import { acceptabilityConstant, type DeviationMethod } from './variables-estimate.ts';
import {
  knownDeviationPlans,
  limitClasses,
  limitColumns,
  reducedKnownDeviationPlans,
  reducedStandardDeviationPlans,
  standardDeviationPlans,
  type VariablesStandard,
  variablesLetterRows,
  variablesLevels,
} from './variables-tables.ts';

export type VariablesSeverity = 'normal' | 'tightened' | 'reduced';

/** A plan of the tables: for one limit by k, for one or two limits by M. */
export interface TabulatedPlan {
  readonly letter: string;
  readonly sampleSizePieces: number;
  readonly acceptabilityConstant: number;
  readonly maximumPercent: number;
}

/** Letters up to which both standards have the same samples, so that known deviation plans agree. */
const sharedLetters = 'BCDEFGHI';

/** Limit of the tables that stands for a stated one: Table A-1. */
export function usedLimit(limitPercent: number, standard: VariablesStandard): number {
  const found = limitClasses.find((one) => limitPercent <= one.upTo)?.use;
  const columns = limitColumns[standard] as readonly number[];
  const offered = standard === 'MIL-STD-414' ? columns : columns.slice(1);
  requireDomain(found !== undefined && limitPercent > 0 && offered.includes(found), {
    field: 'acceptanceQualityLimitPercent',
    value: limitPercent,
    accepted: `a limit that Table A-1 turns into one of ${offered.join(', ')}`,
  });
  return found;
}

/**
 * Code letter of a lot for sampling by variables: Table A-2.
 *
 * @param lotSizePieces whole number, at least 3 (MIL-STD-414) or 2 (Z1.9)
 * @param standard the standard
 * @param level one of its levels
 * @returns one letter, B to Q (MIL-STD-414) or B to P (Z1.9)
 * @throws DomainError for a lot too small or a level that the standard does not have
 * Source: MIL-STD-414 (1957), Table A-2; ANSI/ASQ Z1.9-2008, Table A-2
 * @example variablesLetter(40, 'MIL-STD-414', 'IV') // 'D'
 */
export function variablesLetter(
  lotSizePieces: number,
  standard: VariablesStandard,
  level: string,
): string {
  const least = standard === 'MIL-STD-414' ? 3 : 2;
  requireDomain(Number.isSafeInteger(lotSizePieces) && lotSizePieces >= least, {
    field: 'lotSizePieces',
    value: lotSizePieces,
    accepted: `a whole number of ${least} pieces or more`,
  });
  const column = (variablesLevels[standard] as readonly string[]).indexOf(level);
  requireDomain(column >= 0, {
    field: 'inspectionLevel',
    value: level,
    accepted: `one of ${variablesLevels[standard].join(', ')}`,
  });
  const row = variablesLetterRows[standard].find((one) => lotSizePieces <= one.lotMaximum);
  return row?.letters[column] ?? '';
}

/** Column of the tables; tightened inspection uses the one to the left. */
function columnOf(standard: VariablesStandard, limit: number, severity: VariablesSeverity): number {
  const column = (limitColumns[standard] as readonly number[]).indexOf(limit);
  const used = severity === 'tightened' ? column - 1 : column;
  requireDomain(used >= 0, {
    field: 'acceptanceQualityLimitPercent',
    value: limit,
    accepted: 'a limit above the least of the tables under tightened inspection',
  });
  return used;
}

const numbers = (cell: string | undefined): readonly number[] =>
  (cell ?? '').split('/').map(Number);

/** Follows the arrows of a table with the sample's own standard deviation. */
function ownDeviationPlan(
  standard: VariablesStandard,
  letter: string,
  column: number,
): TabulatedPlan {
  const rows = standardDeviationPlans[standard].map((row) => row.split(' '));
  let index = rows.findIndex((row) => row[0] === letter);
  while (rows[index]?.[column + 2] === 'v') index += 1;
  const [found = '', size, ...cells] = rows[index] ?? [];
  const [k = Number.NaN, maximumPercent = Number.NaN] = numbers(cells[column]);
  return {
    letter: found,
    sampleSizePieces: Number(size),
    acceptabilityConstant: k,
    maximumPercent,
  };
}

function resolvedPlan(rows: readonly string[], letter: string, column: number): readonly number[] {
  const row = rows.map((one) => one.split(' ')).find((one) => one[0] === letter);
  return numbers(row?.[column + 1]);
}

/** Plans whose arrows the table has followed already; where k is not printed it follows from M. */
function knownOrReducedPlan(
  letter: string,
  column: number,
  method: DeviationMethod,
  severity: VariablesSeverity,
): TabulatedPlan {
  const isReduced = severity === 'reduced';
  const rows =
    method === 'sigma'
      ? isReduced
        ? reducedKnownDeviationPlans
        : knownDeviationPlans
      : reducedStandardDeviationPlans;
  // The tables of reduced plans have no column for tightened 0.10.
  const [n = 0, maximumPercent = 0, k] = resolvedPlan(
    rows,
    letter,
    isReduced ? column - 1 : column,
  );
  return {
    letter,
    sampleSizePieces: n,
    acceptabilityConstant: k ?? acceptabilityConstant(maximumPercent / 100, n, method),
    maximumPercent,
  };
}

/**
 * Plan of the tables for sampling by variables, arrows followed.
 *
 * Formula: the cell of letter and limit; tightened inspection uses the column to the left; an arrow
 * leads to the first plan below it, whose sample size then holds. Known deviation and reduced plans are
 * those of Z1.9; for the letters B to I its samples are those of MIL-STD-414 and serve there too.
 *
 * @param options standard, code letter, limit in percent as in the tables, severity, method
 * @returns letter, sample size, k, M in percent
 * @throws DomainError where the tables have no such plan
 * Validity: tables compared cell by cell in reference/variables-plans; M of MIL-STD-414 and the sigma and
 * reduced plans rest on one source.
 * Source: MIL-STD-414 (1957), Tables B-1 and B-3; ANSI/ASQ Z1.9, Tables B-1, B-3, B-4, D-1, D-3, D-4
 * @example tabulatedPlan({ standard: 'MIL-STD-414', letter: 'D', limitPercent: 1, severity: 'normal',
 *   method: 's' }).acceptabilityConstant // 1.53
 */
export function tabulatedPlan(options: {
  readonly standard: VariablesStandard;
  readonly letter: string;
  readonly limitPercent: number;
  readonly severity: VariablesSeverity;
  readonly method: DeviationMethod;
}): TabulatedPlan {
  const { standard, letter, limitPercent, severity, method } = options;
  requireDomain(standard !== 'MIL-STD-414' || severity !== 'reduced', {
    field: 'severity',
    value: severity,
    accepted: 'normal or tightened; the reduced tables of MIL-STD-414 are not held here',
  });
  if (method === 's' && severity !== 'reduced') {
    return ownDeviationPlan(standard, letter, columnOf(standard, limitPercent, severity));
  }
  const isShared = standard === 'ANSI/ASQ Z1.9' || sharedLetters.includes(letter);
  const column = (limitColumns['ANSI/ASQ Z1.9'] as readonly number[]).indexOf(limitPercent);
  requireDomain(isShared && column >= 1, {
    field: 'method',
    value: `${method}, letter ${letter}, limit ${limitPercent}`,
    accepted:
      'method s; with known deviation MIL-STD-414 is held for letters B to I and limits from 0.1 to 10',
  });
  return knownOrReducedPlan(
    letter,
    columnOf('ANSI/ASQ Z1.9', limitPercent, severity),
    method,
    severity,
  );
}
