import type { DefectFamily, HeldRange } from './bodies.ts';

/** A strike as the scope of a hold needs it. */
interface ExaminedStrike {
  readonly strikeNumber: number;
  readonly verdict: string;
  readonly shift: string;
}

/** A run with the strikes examined in it, in their order. */
export interface ExaminedRun {
  readonly run: string;
  readonly melt: string;
  /** Strokes of the whole run once it is closed. */
  readonly strokes: number | null;
  readonly strikes: readonly ExaminedStrike[];
}

/** A fault, with the runs that it could concern. */
export interface SeenFault {
  readonly family: DefectFamily;
  readonly run: ExaminedRun;
  readonly strikeNumber: number;
  readonly shift: string;
  /** The other runs of the same melt. */
  readonly otherRunsOfMelt: readonly ExaminedRun[];
  /** The other runs of the same press that had not ended before this shift. */
  readonly otherRunsOfShift: readonly ExaminedRun[];
}

/** What a hold covers, in words of the plant. */
export type HoldScope = 'melt' | 'bracket' | 'press and shift';

/** The family of a defect decides what is held. */
export const scopeOfFamily: Readonly<Record<DefectFamily, HoldScope>> = {
  metal: 'melt',
  'die or collar': 'bracket',
  'feeding or handling': 'press and shift',
};

function lastStrikeOf(run: ExaminedRun): number {
  return run.strokes ?? run.strikes.at(-1)?.strikeNumber ?? 0;
}

/** The strike after the last approved one that counts; 1 where there is none. */
function afterLastApproved(
  strikes: readonly ExaminedStrike[],
  counts: (strike: ExaminedStrike) => boolean,
): number {
  const approved = strikes.filter((strike) => strike.verdict === 'approved' && counts(strike));
  return (approved.at(-1)?.strikeNumber ?? 0) + 1;
}

/** A whole run; nothing where no piece of it was struck yet. */
function wholeRun(run: ExaminedRun): readonly HeldRange[] {
  const strikeTo = lastStrikeOf(run);
  return strikeTo < 1 ? [] : [{ run: run.run, melt: run.melt, strikeFrom: 1, strikeTo }];
}

/** What was struck in the shift: from the last strike approved in an earlier one. */
function partOfShift(run: ExaminedRun, shift: string): readonly HeldRange[] {
  const strikeFrom = afterLastApproved(run.strikes, (strike) => strike.shift !== shift);
  const strikeTo = lastStrikeOf(run);
  return strikeTo < strikeFrom ? [] : [{ run: run.run, melt: run.melt, strikeFrom, strikeTo }];
}

/**
 * Which pieces a fault holds. A fault of the metal holds every piece struck from the melt; one of
 * a die or collar holds the bracket between the last approved strike and the faulty one; one of
 * feeding or handling holds what the press struck in that shift.
 */
export function heldByFault(fault: SeenFault): readonly HeldRange[] {
  const { run, melt } = fault.run;
  const own = (strikeFrom: number): HeldRange => ({
    run,
    melt,
    strikeFrom: Math.min(strikeFrom, fault.strikeNumber),
    strikeTo: fault.strikeNumber,
  });
  switch (scopeOfFamily[fault.family]) {
    case 'melt':
      return [own(1), ...fault.otherRunsOfMelt.flatMap(wholeRun)];
    case 'bracket':
      return [own(afterLastApproved(fault.run.strikes, () => true))];
    case 'press and shift':
      return [
        own(afterLastApproved(fault.run.strikes, (strike) => strike.shift !== fault.shift)),
        ...fault.otherRunsOfShift.flatMap((other) => partOfShift(other, fault.shift)),
      ];
  }
}

/** How many pieces the ranges of a hold have. */
export function piecesHeld(held: readonly HeldRange[]): number {
  return held.reduce((sum, { strikeFrom, strikeTo }) => sum + strikeTo - strikeFrom + 1, 0);
}
