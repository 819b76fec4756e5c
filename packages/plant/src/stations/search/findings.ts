import type { FaultKind } from './fault-kinds.ts';

/** What somebody found where he looked. */
export const findings = ['piece missing', 'piece too many', 'wrong on paper'] as const;

export type Finding = (typeof findings)[number];

const missing: readonly Finding[] = ['piece missing'];
const tooMany: readonly Finding[] = ['piece too many'];
const paper: readonly Finding[] = ['wrong on paper'];

/** A fault that is found as its sign says: below nothing, pieces are missing there. */
const bySign = (value: number): readonly Finding[] => (value < 0 ? missing : tooMany);

/** As what a fault of each kind and size is found by the look for it. */
const shownAs: Readonly<Record<FaultKind, (value: number) => readonly Finding[]>> = {
  // One counted too few is one more at the next count.
  'tally miscounted': (value) => bySign(0 - value),
  // What is gone from a place is found lying about in it.
  'piece gone': () => tooMany,
  'delivery miscounted': () => paper,
  'delivery not accepted': () => ['piece too many', 'wrong on paper'],
  'reject not written': () => tooMany,
  'reject written twice': () => missing,
  'sample not written': () => tooMany,
  'blanks miscounted': bySign,
  'tube miscounted': bySign,
  'box opened since': () => missing,
  'tube or box not booked': () => ['piece too many', 'wrong on paper'],
  'move not recorded': () => ['piece too many', 'wrong on paper'],
  'archive piece not written': () => tooMany,
  'entry at the wrong time': () => paper,
  'several entries together': () => paper,
  'mass slip': () => paper,
  'wrong tare': () => paper,
  'entry recorded twice': () => paper,
  'entry turned round': () => paper,
  'digits swapped': () => paper,
  'unit slip': () => paper,
  'wrong place booked': () => paper,
  'something else': () => findings,
};

/** What the look for a fault can find of it. */
export const findingsOf = (kind: FaultKind, value: number): readonly Finding[] =>
  shownAs[kind](value);
