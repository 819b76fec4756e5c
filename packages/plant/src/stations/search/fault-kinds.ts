/** What can go wrong with pieces in a shift, with how often and how it is looked for. */
export interface FaultKindFacts {
  /** As a list of causes names it. */
  readonly title: string;
  /** Per opportunity, before the plant has confirmed causes of its own: an assumption. */
  readonly assumedRate: number;
  /** What one opportunity is. */
  readonly opportunity: string;
  /** Minutes of one look for it, and the chance to see it when it is there: assumptions. */
  readonly minutes: number;
  readonly seenIfThere: number;
}

const kind = (
  title: string,
  assumedRate: number,
  opportunity: string,
  look: readonly [minutes: number, seenIfThere: number],
): FaultKindFacts => ({
  title,
  assumedRate,
  opportunity,
  minutes: look[0],
  seenIfThere: look[1],
});

/**
 * The kinds of fault. Rates of reading and writing a number lie at 1 to 3 in a thousand acts, the
 * others lower; all are assumptions that confirmed causes replace. No kind has a rate of zero.
 */
export const faultKinds = {
  'tally miscounted': kind('tally miscounted', 1e-3, 'tally of a place', [15, 0.9]),
  'piece gone': kind('piece lost or taken', 5e-4, 'place and shift', [25, 0.8]),
  'delivery miscounted': kind('delivery miscounted', 2e-3, 'delivery', [10, 0.95]),
  'delivery not accepted': kind('delivery not accepted', 1e-3, 'delivery', [3, 0.99]),
  'reject not written': kind('reject not written', 3e-3, 'press and shift', [3, 0.99]),
  'reject written twice': kind('reject written twice', 1e-3, 'entry of rejects', [3, 0.99]),
  'sample not written': kind('sample not written', 2e-3, 'shift', [15, 0.95]),
  'blanks miscounted': kind('blanks miscounted', 1e-3, 'taking of blanks', [10, 0.95]),
  'tube miscounted': kind('tube miscounted', 2e-4, 'tube', [0.5, 0.99]),
  'box opened since': kind('piece left its box', 5e-5, 'box', [20, 0.99]),
  'tube or box not booked': kind('tube or box not booked', 1e-4, 'shift and way', [5, 0.95]),
  'move not recorded': kind('move not recorded', 5e-4, 'shift and way', [10, 0.95]),
  'archive piece not written': kind('archive piece not written', 1e-3, 'shift', [5, 0.95]),
  'entry at the wrong time': kind('written late, or in the wrong shift', 5e-4, 'entry', [5, 0.95]),
  'several entries together': kind(
    'several entries of one sheet',
    5e-5,
    'shift and way',
    [10, 0.95],
  ),
  'mass slip': kind('mass written with a slip of sign or unit', 1e-4, 'entry', [3, 0.95]),
  'wrong tare': kind('tare left out or taken twice', 2e-4, 'tube', [2, 0.95]),
  'entry recorded twice': kind('entry recorded twice', 2e-4, 'entry', [3, 0.95]),
  'entry turned round': kind('entry turned round', 5e-5, 'entry', [3, 0.95]),
  'digits swapped': kind('digits swapped', 1e-4, 'entry', [3, 0.95]),
  'unit slip': kind('slip of ten, hundred or thousand', 5e-5, 'entry', [3, 0.95]),
  'wrong place booked': kind('booked to the wrong place', 1e-4, 'entry', [3, 0.95]),
  'something else': kind('something else', 1e-4, 'place and shift', [60, 0.3]),
} as const satisfies Record<string, FaultKindFacts>;

/**
 * The chance that somebody who looks says that he found something although nothing is there: an assumption, of
 * every look alike.
 */
export const falseSightingProbability = 0.01;

export type FaultKind = keyof typeof faultKinds;

export const faultKindNames = Object.keys(faultKinds) as [FaultKind, ...FaultKind[]];

/** Learned rates by kind; a kind that is left out has its assumed rate. */
export type FaultRates = ReadonlyMap<FaultKind, number>;

/** Prior odds of one way in which a kind of fault happens, when the ways share its rate. */
export function oddsOf(rates: FaultRates, kind: FaultKind, share = 1): number {
  const rate = (rates.get(kind) ?? faultKinds[kind].assumedRate) * share;
  return rate / (1 - rate);
}
