/** A drum of a pick list with the blanks to take from it. */
export interface ListedDrum {
  readonly drum: string;
  readonly picks: readonly { readonly blank: string }[];
}

/** How far the taking of the picks has come. */
export interface PicksInHand {
  /** The drum that was scanned last; empty before the first. */
  readonly drum: string;
  /** The picks whose codes were scanned at their drum, in the order of the scans. */
  readonly scanned: readonly string[];
}

export const nothingScanned: PicksInHand = { drum: '', scanned: [] };

/** What a scan came to: where the taking stands now, and in words whether it was right. */
export interface Scanned {
  readonly inHand: PicksInHand;
  readonly isRight: boolean;
  readonly words: string;
}

const left = (drum: ListedDrum, scanned: readonly string[]): number =>
  drum.picks.filter(({ blank }) => !scanned.includes(blank)).length;

/**
 * Takes a scan at the drums: of a drum, then of the picks that lie in it. A pick counts only when the
 * drum that was scanned last is the one it lies in, so that no blank is taken from the wrong drum.
 */
export function takeScan(drums: readonly ListedDrum[], inHand: PicksInHand, code: string): Scanned {
  const wrong = (words: string): Scanned => ({ inHand, isRight: false, words });
  const asDrum = drums.find(({ drum }) => drum === code);
  if (asDrum) {
    const words = `Drum ${code}: ${left(asDrum, inHand.scanned)} picks to take here.`;
    return { inHand: { ...inHand, drum: code }, isRight: true, words };
  }
  const home = drums.find(({ picks }) => picks.some(({ blank }) => blank === code));
  if (!home) return wrong(`${code} is neither a drum nor a pick of this list.`);
  if (inHand.scanned.includes(code)) return wrong(`${code} was taken already.`);
  if (inHand.drum !== home.drum) {
    return wrong(
      inHand.drum === ''
        ? `Scan the drum first: ${code} lies in ${home.drum}.`
        : `${code} lies in ${home.drum}, and the drum scanned last is ${inHand.drum}.`,
    );
  }
  const scanned = [...inHand.scanned, code];
  const more = left(home, scanned);
  const words =
    more === 0
      ? `${code} taken. Drum ${home.drum} is done.`
      : `${code} taken. ${more} more in drum ${home.drum}.`;
  return { inHand: { ...inHand, scanned }, isRight: true, words };
}

/** A pick that was substituted lies elsewhere now: it must be scanned there. */
export function forgetScan(inHand: PicksInHand, blank: string): PicksInHand {
  return { ...inHand, scanned: inHand.scanned.filter((one) => one !== blank) };
}

/** How many picks of the list were scanned. */
export function countScanned(drums: readonly ListedDrum[], { scanned }: PicksInHand): number {
  const known = new Set(drums.flatMap(({ picks }) => picks.map(({ blank }) => blank)));
  return scanned.filter((blank) => known.has(blank)).length;
}
