/** After opening, whatever comes may be the rest of a line, or lines kept for us by a box between. */
export const settleMilliseconds = 300;
/** A pause within a line: what follows it may be another line's end. */
export const pauseMilliseconds = 500;
/** Longer than any line; then it is no instrument of that speed and setting. */
const longestLine = 200;

/** A line with its bytes as characters; a part of one can never become a reading. */
export interface SplitLine {
  readonly raw: string;
  readonly isWhole: boolean;
}

/**
 * Cuts what comes into lines. A line counts as whole only when its beginning was seen: after the
 * line was opened and quiet, or right after the end of the line before; and when nothing paused in it.
 */
export class LineSplitter {
  #text = '';
  #isWhole = false;
  #followsEnd = false;
  #openedAt = 0;
  #lastAt = 0;

  /** The line was opened at that instant, in milliseconds of any steady clock. */
  opened(now: number): void {
    this.#text = '';
    this.#isWhole = false;
    this.#followsEnd = false;
    this.#openedAt = now;
    this.#lastAt = now;
  }

  /** Takes what came at that instant; answers the lines that ended in it. */
  take(bytes: Uint8Array, now: number): readonly SplitLine[] {
    const isSettled = now - this.#openedAt >= settleMilliseconds;
    this.#begin(now, isSettled);
    this.#text += Buffer.from(bytes).toString('latin1');
    const parts = this.#text.split(/[\r\n]/);
    this.#text = parts.pop() ?? '';
    const lines = parts.map((raw) => {
      const isWhole = this.#isWhole && isSettled;
      this.#isWhole = isSettled;
      return { raw: raw.slice(-longestLine), isWhole };
    });
    if (bytes.length > 0) this.#followsEnd = this.#text === '';
    if (this.#text.length > longestLine) {
      this.#text = this.#text.slice(-longestLine);
      this.#isWhole = false;
    }
    // Instruments end lines in CR, LF or both: between the two stands nothing.
    return lines.filter(({ raw }) => raw !== '');
  }

  /** Whether the beginning of the line that now begins, or the whole of it so far, was seen. */
  #begin(now: number, isSettled: boolean): void {
    const quiet = now - this.#lastAt;
    this.#lastAt = now;
    if (this.#text === '') {
      this.#isWhole = isSettled && (this.#followsEnd || quiet >= settleMilliseconds);
    } else if (quiet > pauseMilliseconds) {
      this.#isWhole = false;
    }
  }
}
