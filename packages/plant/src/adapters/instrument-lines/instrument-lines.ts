import type { Clock } from '../../ports/clock.ts';
import type {
  ConnectedInstrument,
  InstrumentLines,
  LineNews,
  LineState,
  ReceivedLine,
  StreamedCurve,
  Taken,
} from '../../ports/instrument-line.ts';
import { LineReader } from './line-reader.ts';
import { ReceivedLines } from './received-lines.ts';

/** The instruments of a plant on their lines, one reader for each. */
export class OpenInstrumentLines implements InstrumentLines {
  readonly #clock: Clock;
  readonly #received: ReceivedLines;
  readonly #readers = new Map<string, LineReader>();
  readonly #listeners = new Set<(news: LineNews) => void>();

  constructor(options: { readonly clock: Clock; readonly folder: string }) {
    this.#clock = options.clock;
    this.#received = new ReceivedLines(options.folder);
  }

  /** Reads exactly these instruments from now on; a line whose settings did not change stays open. */
  set(instruments: readonly ConnectedInstrument[]): void {
    const settings = new Map(instruments.map((one) => [one.instrument, one]));
    for (const [instrument, reader] of this.#readers) {
      const now = settings.get(instrument);
      if (now && JSON.stringify(now) === JSON.stringify(reader.settings)) continue;
      reader.close();
      this.#readers.delete(instrument);
    }
    for (const one of instruments) {
      if (this.#readers.has(one.instrument)) continue;
      const reader = new LineReader(one, {
        clock: this.#clock,
        keep: (line) => this.#received.keep(line),
        tell: (news) => this.#tell(news),
      });
      this.#readers.set(one.instrument, reader);
    }
  }

  states(): readonly LineState[] {
    return [...this.#readers.values()].map((reader) => reader.state());
  }

  state(instrument: string): LineState | undefined {
    return this.#readers.get(instrument)?.state();
  }

  async take(instrument: string, limitMilliseconds: number): Promise<Taken | undefined> {
    return this.#readers.get(instrument)?.take(limitMilliseconds);
  }

  curves(instrument: string): readonly StreamedCurve[] | undefined {
    return this.#readers.get(instrument)?.curves();
  }

  onNews(listener: (news: LineNews) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  received(hash: string, until: string): Promise<ReceivedLine | undefined> {
    return this.#received.find(hash, until);
  }

  /** Closes every line. */
  close(): void {
    this.set([]);
  }

  #tell(news: LineNews): void {
    for (const listener of this.#listeners) listener(news);
  }
}
