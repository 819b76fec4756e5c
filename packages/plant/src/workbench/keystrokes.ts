/** What of a key event tells a hand from a device. */
export interface Keystroke {
  readonly key: string;
  readonly timeStamp: number;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
}

/** Devices send characters at most this far apart; hands need about three times as long. */
const greatestGapMilliseconds = 35;
const leastLength = 3;
/** A run that begins sooner than this after another character may be the rest of a longer one. */
const quietMilliseconds = 400;

/** Tells the keystrokes of a scanner or balance from those of a hand, by their speed. */
export class Keystrokes {
  #text = '';
  #last = Number.NEGATIVE_INFINITY;
  /** False when the run may have lost its beginning: half a weight must never pass for a whole one. */
  #isWhole = true;

  /** Takes the next keystroke; answers the whole text when a device has just ended one with Enter. */
  take(stroke: Keystroke): string | undefined {
    if (stroke.ctrlKey || stroke.altKey || stroke.metaKey) {
      this.#text = '';
      return undefined;
    }
    const isFast = stroke.timeStamp - this.#last <= greatestGapMilliseconds;
    if (stroke.key === 'Enter') {
      const text = isFast && this.#isWhole ? this.#text : '';
      this.#text = '';
      return text.length >= leastLength ? text : undefined;
    }
    // Shift comes between the characters of a capital; it is neither character nor pause.
    if (stroke.key.length !== 1) return undefined;
    if (!isFast) this.#isWhole = stroke.timeStamp - this.#last >= quietMilliseconds;
    this.#text = isFast ? this.#text + stroke.key : stroke.key;
    this.#last = stroke.timeStamp;
    return undefined;
  }
}

/** What an instrument says in keystrokes: a number, its plus sign and spaces aside, and perhaps its unit. */
export function readingIn(text: string): { text: string; unit: string | undefined } | undefined {
  const [, number, unit] =
    /^\s*\+?\s*(-?\s*\d+(?:[.,]\d+)?)\s*(kg|g|mg|mm|µm|um|HV)?\s*$/.exec(text) ?? [];
  if (number === undefined) return undefined;
  return {
    text: number.replace(/\s/g, '').replace(',', '.'),
    unit: unit === 'um' ? 'µm' : unit,
  };
}
