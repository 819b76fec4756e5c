/** Strikes of one run from one to another, both included. */
export interface StrikeRange {
  readonly strikeFrom: number;
  readonly strikeTo: number;
}

/** How many strikes lie in at least one of the ranges, up to a last strike. */
export function strikesInRanges(ranges: readonly StrikeRange[], upTo: number): number {
  const ascending = [...ranges].sort((one, other) => one.strikeFrom - other.strikeFrom);
  let counted = 0;
  let last = 0;
  for (const { strikeFrom, strikeTo } of ascending) {
    const from = Math.max(strikeFrom, last + 1);
    const to = Math.min(strikeTo, upTo);
    if (to < from) continue;
    counted += to - from + 1;
    last = to;
  }
  return counted;
}

/**
 * How many pieces of a run may leave for put-up: those up to the last approved strike, less what
 * was ruled to be scrap or set aside as a reject (whichever are more, since the rejects may be the
 * ones ruled to be scrap), less what has left.
 */
export function piecesDeliverable(run: {
  readonly judgedUpTo: number;
  readonly condemned: readonly StrikeRange[];
  readonly piecesRejected: number;
  readonly piecesDelivered: number;
}): number {
  const condemned = strikesInRanges(run.condemned, run.judgedUpTo);
  const left = run.judgedUpTo - Math.max(condemned, run.piecesRejected) - run.piecesDelivered;
  return Math.max(0, left);
}
