import { requireDomain } from '../quantity/domain.ts';
import { masterTables } from './attribute-tables.ts';
import { limitNumber } from './limit-number.ts';
import type { LotResult } from './severity-history.ts';

/** An original lot judged while normal inspection was in force. */
export interface NormalLot {
  readonly lot: string;
  readonly result: LotResult;
  /** Whether its plan was the normal one too. */
  readonly isOwn: boolean;
}

/** Accepted lots in a row that reduced inspection needs at least. */
const leastLots = 10;

/** Switching score that reduced inspection needs. */
export const scoreForReduced = 30;

/** The last lots beside the limit number of Table VIII. */
export interface LimitCheck {
  readonly lots: number;
  readonly sampleUnits: number;
  readonly nonconforming: number;
  /** Nothing where the units do not suffice or the table gives none. */
  readonly limitNumber: number | null;
  readonly isMet: boolean;
}

/** Lots in a row up to the last one, all accepted under the normal plan. */
function unbrokenRun(lots: readonly NormalLot[]): readonly NormalLot[] {
  const last = lots.findLastIndex(({ isOwn, result }) => !isOwn || !result.accepted);
  return lots.slice(last + 1);
}

/**
 * Whether the last ten lots, or more where their samples are too small, meet the limit number for
 * reduced inspection; null before ten lots in a row were accepted.
 *
 * Source: MIL-STD-105E (1989), 4.7.3 a and b, Table VIII and its note
 */
export function checkLimitNumber(
  lots: readonly NormalLot[],
  acceptanceQualityLimitPercent: number,
): LimitCheck | null {
  const run = unbrokenRun(lots);
  if (run.length < leastLots) return null;
  const looked = run.slice(-leastLots);
  let sampleUnits = looked.reduce((sum, { result }) => sum + result.sampleUnits, 0);
  let nonconforming = looked.reduce((sum, { result }) => sum + result.nonconforming, 0);
  let count = leastLots;
  let answer = limitNumber(sampleUnits, acceptanceQualityLimitPercent);
  if (answer.found === 'too few units') {
    for (const { result } of run.slice(0, -leastLots).toReversed()) {
      if (sampleUnits >= answer.unitsNeeded) break;
      sampleUnits += result.sampleUnits;
      nonconforming += result.nonconforming;
      count += 1;
    }
    answer = limitNumber(sampleUnits, acceptanceQualityLimitPercent);
  }
  const limit = answer.found === 'limit' ? answer.limitNumber : null;
  const isMet = limit !== null && nonconforming <= limit;
  return { lots: count, sampleUnits, nonconforming, limitNumber: limit, isMet };
}

/** Acceptance numbers of the normal table, each one step of the limit from the next. */
const acceptanceLadder: readonly number[] = [
  ...new Set(
    masterTables.normal.flatMap((row) =>
      row
        .split(' ')
        .slice(2)
        .filter((cell) => cell.includes('/'))
        .map((cell) => Number(cell.split('/')[0])),
    ),
  ),
].sort((a, b) => a - b);

/** Points of a lot that did not merely pass, and of one that passed a plan too coarse to tell. */
const pointsWellPassed = 3;
const pointsPassed = 2;

/**
 * Switching score after one more lot under normal inspection.
 *
 * Rules: a single plan with acceptance number 2 or more adds 3 when the lot would also have been
 * accepted with the limit one step tighter (the next smaller acceptance number of the table), with 0
 * or 1 it adds 2 when the lot is accepted; a double plan adds 3 when the first sample accepts. Any
 * other lot sets the score to 0.
 *
 * @throws DomainError for an acceptance number that the normal table does not have
 * Source: ISO 2859-1:1999, 9.3.3 (rules as remembered)
 */
export function scoreAfter(score: number, result: LotResult, at: string): number {
  if (!result.accepted) return 0;
  const accept = result.singleAcceptanceNumber;
  if (accept === null) return result.onFirstSample ? score + pointsWellPassed : 0;
  const step = acceptanceLadder.indexOf(accept);
  requireDomain(step >= 0, {
    field: `${at}.result.acceptanceNumber`,
    value: accept,
    accepted: `an acceptance number of the normal plans: ${acceptanceLadder.join(', ')}`,
  });
  if (accept < 2) return score + pointsPassed;
  const tighter = acceptanceLadder[step - 1] as number;
  return result.nonconforming <= tighter ? score + pointsWellPassed : 0;
}
