import { emptyReading, type ReadingDraft } from '../../../../workbench/reading-draft.ts';
import { type PortionParty, portionParties } from '../words.ts';

/** A portion while it is put together. */
export interface PortionDraft {
  readonly portion: string;
  readonly for: PortionParty;
  readonly blanks: readonly string[];
  readonly gross: ReadingDraft;
  readonly seal: string;
  readonly place: string;
  readonly keptUntil: string;
}

export function emptyPortion(): PortionDraft {
  return {
    portion: '',
    for: 'plant',
    blanks: [],
    gross: emptyReading('g'),
    seal: '',
    place: '',
    keptUntil: '',
  };
}

/** The next portion: for the next side, in the same place, kept until the same day. */
export function nextPortion(before: PortionDraft): PortionDraft {
  const next = portionParties[portionParties.indexOf(before.for) + 1] ?? 'reserve';
  const { place, keptUntil } = before;
  return { ...emptyPortion(), for: next, place, keptUntil };
}

/** What a scanned blank comes to. */
export interface BlankScan {
  readonly blanks: readonly string[];
  readonly words: string;
  readonly isRight: boolean;
}

/** Takes a scanned blank into the portion in hand, where it can be sealed. */
export function takeBlank(
  of: {
    readonly inHand: readonly string[];
    readonly inOthers: readonly string[];
    readonly sample: readonly { readonly blank: string; readonly canBeSealed: boolean }[];
  },
  code: string,
): BlankScan {
  const { inHand, inOthers, sample } = of;
  const wrong = (words: string): BlankScan => ({ blanks: inHand, words, isRight: false });
  const known = sample.find(({ blank }) => blank === code);
  if (!known) return wrong(`${code} is no blank of this sample.`);
  if (inHand.includes(code)) return wrong(`${code} is in this portion already.`);
  if (inOthers.includes(code)) return wrong(`${code} is in another portion.`);
  if (!known.canBeSealed)
    return wrong(`${code} cannot be sealed: measure it first, or it is used.`);
  const blanks = [...inHand, code];
  return { blanks, words: `${code} taken, ${blanks.length} in this portion.`, isRight: true };
}
