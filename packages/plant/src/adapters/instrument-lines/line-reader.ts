import type { Clock } from '../../ports/clock.ts';
import { decodeLine } from '../../ports/instrument-dialect.ts';
import type {
  ConnectedInstrument,
  HeardLine,
  LineNews,
  LineState,
  ReceivedLine,
  StreamedCurve,
  Taken,
} from '../../ports/instrument-line.ts';
import { LineSplitter, type SplitLine } from './line-splitter.ts';
import { StreamedCurves } from './streamed-curves.ts';
import { openTransport, type Transport } from './transport.ts';
import { type Answered, Waiting } from './waiting.ts';

const firstRetryMilliseconds = 250;
const longestRetryMilliseconds = 8000;
/** So many of the last lines are shown. */
const heardLines = 20;
/** The same line again within this time is one press of a key that was sent twice. */
const bounceMilliseconds = 1000;
/** After an ask went unanswered, a line that comes so late is its answer and no press of the key. */
const lateMilliseconds = 10_000;
const endTexts = { 'CR LF': '\r\n', CR: '\r', LF: '\n' } as const;

/** What a reader needs from outside. */
interface ReaderParts {
  readonly clock: Clock;
  readonly keep: (line: Omit<ReceivedLine, 'received'>) => Promise<ReceivedLine>;
  readonly tell: (news: LineNews) => void;
}

type StableLine = HeardLine & { readonly decoded: { readonly says: 'stable' } };

function isStable(heard: HeardLine): heard is StableLine {
  return heard.decoded.says === 'stable';
}

/** Reads one instrument: opens its line, opens it again when it is lost, and hears what it says. */
export class LineReader {
  readonly #settings: ConnectedInstrument;
  readonly #parts: ReaderParts;
  readonly #splitter = new LineSplitter();
  readonly #curves = new StreamedCurves();
  #transport: Transport | undefined;
  #state: LineState['state'] = 'connecting';
  #since: string;
  #why: string | null = null;
  #heard: readonly HeardLine[] = [];
  #heardAt = Number.NEGATIVE_INFINITY;
  #failures = 0;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #waiting: Waiting | undefined;
  #lateUntil = Number.NEGATIVE_INFINITY;
  /** Whether anything else came since the last reading was taken. */
  #hasMoved = true;
  #lastTaken = '';

  constructor(settings: ConnectedInstrument, parts: ReaderParts) {
    this.#settings = settings;
    this.#parts = parts;
    this.#since = this.#instant();
    this.#open();
  }

  get settings(): ConnectedInstrument {
    return this.#settings;
  }

  /** Ends the reading of the line for good. */
  close(): void {
    clearTimeout(this.#retry);
    this.#transport?.close();
    this.#transport = undefined;
    this.#enter('lost', 'it is no longer read');
    this.#waiting?.end('not connected');
  }

  state(): LineState {
    const { instrument, title, measures, asks, sendsAllTheTime } = this.#settings;
    return {
      instrument,
      title,
      measures,
      state: this.#state,
      since: this.#since,
      why: this.#why,
      silentSince: this.#heard[0]?.instant ?? null,
      heard: this.#heard,
      canBeAsked: asks !== null,
      sendsAllTheTime,
    };
  }

  /** The curves that it sent, the newest first. */
  curves(): readonly StreamedCurve[] {
    return this.#curves.curves;
  }

  /** Waits for a stable reading, asking for it where that can be done. One at a time. */
  async take(limitMilliseconds: number): Promise<Taken> {
    if (this.#state !== 'connected') return this.#notTaken('not connected', null);
    if (this.#waiting) return this.#notTaken('busy', null);
    const waiting = new Waiting({ limitMilliseconds, ask: this.#ask() });
    this.#waiting = waiting;
    let answered: Answered;
    try {
      answered = await waiting.answer;
    } finally {
      this.#waiting = undefined;
    }
    if (!answered.line) {
      if (answered.because === 'silent' && this.#settings.asks) this.#afterSilence();
      return this.#notTaken(answered.because, answered.heard);
    }
    this.#hasMoved = false;
    this.#lastTaken = answered.line.raw;
    return { taken: true, line: await this.#keep(answered.line as StableLine) };
  }

  #ask(): (() => void) | undefined {
    const { asks } = this.#settings;
    return asks ? () => this.#transport?.send(asks.text + endTexts[asks.end]) : undefined;
  }

  /** A socket that answers nothing may be dead at the other end: it is made anew. */
  #afterSilence(): void {
    this.#lateUntil = performance.now() + lateMilliseconds;
    if (this.#settings.line.kind === 'serial' || this.#state !== 'connected') return;
    this.#transport?.close();
    this.#lost('it did not answer when it was asked');
  }

  #notTaken(because: Exclude<Answered['because'], null>, heard: HeardLine | null): Taken {
    return { taken: false, because, heard, state: this.state() };
  }

  #open(): void {
    this.#transport = openTransport(this.#settings.line, {
      opened: () => {
        this.#splitter.opened(performance.now());
        this.#enter('connected', null);
      },
      came: (bytes) => this.#came(bytes),
      lost: (why) => this.#lost(why),
    });
  }

  #lost(why: string): void {
    this.#enter('lost', why);
    this.#curves.miss('the line was lost');
    this.#waiting?.end('not connected');
    const wait = Math.min(firstRetryMilliseconds * 2 ** this.#failures, longestRetryMilliseconds);
    this.#failures += 1;
    this.#retry = setTimeout(() => this.#open(), wait);
    this.#retry.unref();
  }

  #enter(state: LineState['state'], why: string | null): void {
    const isNew = state !== this.#state;
    this.#why = why;
    if (!isNew) return;
    this.#state = state;
    this.#since = this.#instant();
    this.#parts.tell({ news: 'state', instrument: this.#settings.instrument });
  }

  #came(bytes: Uint8Array): void {
    const now = performance.now();
    this.#failures = 0;
    for (const line of this.#splitter.take(bytes, now)) this.#hear(line, now);
  }

  #hear({ raw, isWhole }: SplitLine, now: number): void {
    const decoded = isWhole
      ? decodeLine(raw, this.#settings.dialect)
      : ({ says: 'not understood', why: 'its beginning or a part of it may be missing' } as const);
    const heard: HeardLine = { instant: this.#instant(), raw, decoded };
    const isSameAgain = raw === this.#heard[0]?.raw && now - this.#heardAt < bounceMilliseconds;
    this.#heard = [heard, ...this.#heard].slice(0, heardLines);
    this.#heardAt = now;
    if (raw !== this.#lastTaken) this.#hasMoved = true;
    if (this.#settings.dialect.shape === 'volume and potential') {
      this.#hearPoint(heard, this.#settings.dialect.potentialUnit);
      return;
    }
    if (this.#waiting) this.#waiting.hear(heard, { isUnchanged: this.#isUnchanged() });
    else if (!this.#settings.sendsAllTheTime && !isSameAgain) this.#pushed(heard, now);
  }

  /** What a titrator sends is no reading of a field: it is put together to curves. */
  #hearPoint({ decoded, instant, raw }: HeardLine, potentialUnit: StreamedCurve['potentialUnit']) {
    if (decoded.says === 'point') {
      const { volume, potential } = decoded;
      this.#curves.take({ volume, potential }, { instant, potentialUnit });
    } else {
      this.#curves.miss(`“${raw.trim().slice(0, 40)}” was not understood`);
    }
  }

  /** A stream that has said one and the same thing since the last reading shows the same load, or is stuck. */
  #isUnchanged(): boolean {
    return this.#settings.sendsAllTheTime && !this.#hasMoved;
  }

  /** The print key was pressed. */
  #pushed(heard: HeardLine, now: number): void {
    const { instrument, measures } = this.#settings;
    const isLate = now < this.#lateUntil;
    this.#lateUntil = Number.NEGATIVE_INFINITY;
    if (isLate) return;
    const noReading = (why: HeardLine): void =>
      this.#parts.tell({ news: 'no reading', instrument, heard: why });
    if (!isStable(heard)) {
      noReading(heard);
      return;
    }
    this.#keep(heard).then(
      (line) => this.#parts.tell({ news: 'reading', line, measures }),
      () =>
        noReading({
          ...heard,
          decoded: { says: 'not understood', why: 'it could not be written to the disk' },
        }),
    );
  }

  #keep(heard: StableLine): Promise<ReceivedLine> {
    const { instant, raw, decoded } = heard;
    const { text, unit, net } = decoded as Extract<HeardLine['decoded'], { says: 'stable' }>;
    const { instrument } = this.#settings;
    return this.#parts.keep({ instrument, instant, raw, text, unit, net });
  }

  #instant(): string {
    return new Date(this.#parts.clock.now()).toISOString();
  }
}
