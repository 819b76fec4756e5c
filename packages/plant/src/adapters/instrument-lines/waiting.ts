import type { HeardLine, NoReading } from '../../ports/instrument-line.ts';

/** So long after a line that was no reading the instrument is asked again. */
const askAgainMilliseconds = 250;

/** What came of waiting: a stable line, or why there was none and what was heard last. */
export type Answered =
  | { readonly line: HeardLine; readonly because: null; readonly heard: null }
  | { readonly line: null; readonly because: NoReading; readonly heard: HeardLine | null };

const reasons = {
  unstable: 'unstable',
  overload: 'overload',
  'not understood': 'not understood',
  stable: 'unchanged',
  // A titrator is asked for no single reading.
  point: 'unchanged',
} as const;

/** A person waits for a stable line, for a limited time. */
export class Waiting {
  readonly answer: Promise<Answered>;
  readonly #ask: (() => void) | undefined;
  readonly #limit: ReturnType<typeof setTimeout>;
  #again: ReturnType<typeof setTimeout> | undefined;
  #resolve: (answered: Answered) => void = () => {};
  #last: HeardLine | null = null;

  constructor(options: { limitMilliseconds: number; ask: (() => void) | undefined }) {
    this.answer = new Promise((resolve) => {
      this.#resolve = resolve;
    });
    this.#ask = options.ask;
    this.#limit = setTimeout(() => this.end(), options.limitMilliseconds);
    this.#ask?.();
  }

  /** A line came while it is waited for. */
  hear(heard: HeardLine, { isUnchanged }: { readonly isUnchanged: boolean }): void {
    this.#last = heard;
    const { says } = heard.decoded;
    if (says === 'stable' && !isUnchanged) {
      this.#settle({ line: heard, because: null, heard: null });
    } else if (says === 'overload') {
      this.end();
    } else if (this.#ask) {
      clearTimeout(this.#again);
      this.#again = setTimeout(this.#ask, askAgainMilliseconds);
    }
  }

  /** Ends the waiting without a reading; the last line tells why, where no reason is given. */
  end(because?: NoReading): void {
    const told = this.#last ? reasons[this.#last.decoded.says] : 'silent';
    this.#settle({ line: null, because: because ?? told, heard: this.#last });
  }

  #settle(answered: Answered): void {
    clearTimeout(this.#limit);
    clearTimeout(this.#again);
    this.#resolve(answered);
  }
}
