import type { Clock } from '../ports/clock.ts';
import type { JsonObject } from '../ports/json.ts';
import type { Signer } from '../ports/signer.ts';
import { type Store, StoreFull, type StoreWriter } from '../ports/store.ts';
import { type Act, appendEntry, type Tail } from './append.ts';
import { checkAuthority, coreRefusals, inputRefusals, textRefusals } from './authority.ts';
import { shownRefusal } from './blind.ts';
import { type BookReader, bookReader, bookWriter } from './books.ts';
import { requests } from './core-books.ts';
import { genesisHash, parseEntry, type RecordedEntry, sha256Hex } from './entry.ts';
import { Fault } from './fault.ts';
import { signHead } from './head.ts';
import type { Registry } from './plant.ts';
import { type Refusal, refuse } from './refusal.ts';
import { type ShiftCalendar, shiftAt } from './shift.ts';
import type { Calculate, Circumstances, Person } from './station.ts';

/** A command as it arrives, with what the door has already proved about the people. */
export interface Request {
  readonly command: string;
  readonly input: unknown;
  readonly idempotencyKey: string;
  readonly author: string;
  /** True when the author has just proved who he is once more. */
  readonly signed: boolean;
  /** The second person, who has proved who he is. */
  readonly witness?: string;
}

/** What became of a command. */
export type Outcome =
  | {
      readonly outcome: 'recorded';
      readonly entries: readonly RecordedEntry[];
      /** True when this key had been recorded before and nothing was added now. */
      readonly repeated: boolean;
      readonly answer: JsonObject;
    }
  | { readonly outcome: 'refused'; readonly refusals: readonly Refusal[] };

/** What the recorder needs from the parts of the plant. */
export interface RecorderOptions {
  readonly store: Store;
  readonly registry: Registry;
  readonly clock: Clock;
  readonly signer: Signer;
  readonly calendar: ShiftCalendar;
  /** Who a person is, as the books say. */
  readonly person: (books: BookReader, id: string) => Promise<Person | undefined>;
  /** Calculates for commands beside the others; in place when left out. */
  readonly calculate?: Calculate;
  /** How many waiting commands share one durable commit, at the most. */
  readonly batchLimit?: number;
  /** Told when a listener throws: what it was told of is on disk all the same. */
  readonly onListenerFault?: (error: unknown) => void;
}

interface Waiting {
  readonly request: Request;
  readonly prepared: unknown;
  readonly resolve: (outcome: Outcome) => void;
  readonly reject: (error: unknown) => void;
}

/** Ends one command's part of a write when its postings would leave a place with less than nothing. */
class Refused extends Error {
  readonly refusals: readonly Refusal[];
  constructor(refusals: readonly Refusal[]) {
    super('refused');
    this.refusals = refusals;
  }
}

/**
 * The one writer of the journal. Commands that arrive while a commit is on its way share the next
 * one; each is answered only when its entries are on disk.
 */
export class Recorder {
  readonly #options: RecorderOptions;
  readonly #waiting: Waiting[] = [];
  readonly #listeners = new Set<(entries: readonly RecordedEntry[]) => void>();
  readonly #preparing = new Set<Promise<unknown>>();
  #running: Promise<void> | undefined;

  constructor(options: RecorderOptions) {
    this.#options = options;
  }

  /** Calls the listener after each commit with the entries that it made durable. */
  onRecorded(listener: (entries: readonly RecordedEntry[]) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Records a command or says why not. */
  record(request: Request): Promise<Outcome> {
    const preparing = this.#prepare(request);
    return preparing ? this.#recordPrepared(request, preparing) : this.#queue(request, undefined);
  }

  /** What the command works out before its turn; nothing where it has none, or where its input is not good. */
  #prepare(request: Request): Promise<unknown> | undefined {
    const { store, registry, calculate } = this.#options;
    const command = registry.command(request.command);
    const parsed = command?.prepare && command.input.safeParse(request.input);
    if (!parsed?.success) return undefined;
    return command?.prepare?.(bookReader(store.reader), parsed.data, calculate);
  }

  async #recordPrepared(request: Request, preparing: Promise<unknown>): Promise<Outcome> {
    this.#preparing.add(preparing);
    try {
      return await this.#queue(request, await preparing);
    } finally {
      this.#preparing.delete(preparing);
    }
  }

  #queue(request: Request, prepared: unknown): Promise<Outcome> {
    return new Promise((resolve, reject) => {
      this.#waiting.push({ request, prepared, resolve, reject });
      this.#running ??= this.#drain();
    });
  }

  /** Resolves when nothing waits. */
  async idle(): Promise<void> {
    while (this.#running || this.#preparing.size > 0) {
      await (this.#running ?? Promise.allSettled(this.#preparing));
    }
  }

  async #drain(): Promise<void> {
    // A turn of the event loop lets commands that arrived together share the first commit.
    await new Promise((resolve) => setImmediate(resolve));
    while (this.#waiting.length > 0) {
      await this.#commit(this.#waiting.splice(0, this.#options.batchLimit ?? 256));
    }
    this.#running = undefined;
  }

  async #commit(batch: readonly Waiting[]): Promise<void> {
    const answers: (() => void)[] = [];
    const recorded: RecordedEntry[] = [];
    try {
      await this.#options.store.write(async (writer) => {
        const start = (await writer.lastLine()) ?? { number: 0, hash: genesisHash };
        for (const waiting of batch) {
          const tail = recorded.at(-1) ?? start;
          answers.push(await this.#recordOne(writer, waiting, { tail, recorded }));
        }
      });
    } catch (error) {
      const outcome = error instanceof StoreFull ? fullDisk() : undefined;
      for (const { resolve, reject } of batch) outcome ? resolve(outcome) : reject(error);
      return;
    }
    for (const answer of answers) answer();
    if (recorded.length > 0) this.#tell(recorded);
  }

  /** A listener's fault stops neither the other listeners nor the commands that wait. */
  #tell(recorded: readonly RecordedEntry[]): void {
    for (const listener of this.#listeners) {
      try {
        listener(recorded);
      } catch (error) {
        this.#options.onListenerFault?.(error);
      }
    }
  }

  /** Records one command inside the shared write; answers what to tell once the write is durable. */
  async #recordOne(
    writer: StoreWriter,
    waiting: Waiting,
    { tail, recorded }: { tail: Tail; recorded: RecordedEntry[] },
  ): Promise<() => void> {
    try {
      const outcome = await writer.part(() => this.#execute(writer, waiting, tail));
      if (outcome.outcome === 'recorded' && !outcome.repeated) recorded.push(...outcome.entries);
      return () => waiting.resolve(outcome);
    } catch (error) {
      if (error instanceof StoreFull) throw error;
      if (error instanceof Refused) {
        return () => waiting.resolve({ outcome: 'refused', refusals: error.refusals });
      }
      return () => waiting.reject(error);
    }
  }

  async #execute(writer: StoreWriter, waiting: Waiting, tail: Tail): Promise<Outcome> {
    const { request, prepared } = waiting;
    const books = bookWriter(writer);
    const command = this.#options.registry.command(request.command);
    if (!command) throw new Fault(`no station offers the command ${request.command}`);
    const requestHash = hashOfRequest(request);
    const earlier = await this.#repeated(writer, request, requestHash);
    if (earlier) return earlier;
    const parsed = command.input.safeParse(request.input);
    if (!parsed.success) {
      return { outcome: 'refused', refusals: inputRefusals(parsed.error, request.input) };
    }
    const malformed = textRefusals(parsed.data);
    if (malformed.length > 0) return { outcome: 'refused', refusals: malformed };
    const circumstances = await this.#circumstances(writer, request, tail);
    const authority = checkAuthority(command, request, circumstances);
    if (authority.length > 0) return { outcome: 'refused', refusals: authority };
    const known = circumstances as Circumstances;
    const facts = await command.facts(books, parsed.data, known, prepared);
    const decision = command.decide(parsed.data, facts, known);
    if ('refusals' in decision) {
      const refusals = decision.refusals.map((one) => shownRefusal(one, known.author));
      return { outcome: 'refused', refusals };
    }
    const entries: RecordedEntry[] = [];
    for (const draft of decision.entries) {
      const before = entries.at(-1) ?? tail;
      const act = { draft, request, requestHash, circumstances: known, before };
      entries.push(await this.#append(writer, act));
    }
    return { outcome: 'recorded', entries, repeated: false, answer: decision.answer ?? {} };
  }

  /** What became of the request when it was sent before; nothing when it is new. */
  async #repeated(
    writer: StoreWriter,
    request: Request,
    requestHash: string,
  ): Promise<Outcome | undefined> {
    const { author, idempotencyKey } = request;
    if (!requestKeyForm.test(idempotencyKey)) {
      return refusedKey('is not 1 to 120 letters, digits or . _ : / -', idempotencyKey);
    }
    const earlier = await bookReader(writer).get(requests, author, idempotencyKey);
    if (!earlier) return undefined;
    if (earlier.requestHash !== requestHash) {
      return refusedKey(`belongs to another request, entry ${earlier.firstEntry}`, idempotencyKey);
    }
    const lines = await writer.lines(earlier.firstEntry, earlier.lastEntry + 1);
    const entries = lines.map(parseEntry);
    return { outcome: 'recorded', entries, repeated: true, answer: {} };
  }

  async #circumstances(
    writer: StoreWriter,
    request: Request,
    tail: Tail,
  ): Promise<Omit<Circumstances, 'author'> & { author: Person | undefined }> {
    const books = bookReader(writer);
    const now = this.#options.clock.now();
    const witness = request.witness
      ? await this.#options.person(books, request.witness)
      : undefined;
    return {
      plant: this.#options.store.plant,
      author: await this.#options.person(books, request.author),
      witness: witness ?? null,
      instant: new Date(now).toISOString(),
      shift: shiftAt(this.#options.calendar, now),
      nextNumber: tail.number + 1,
    };
  }

  async #append(writer: StoreWriter, act: Act): Promise<RecordedEntry> {
    const { entry, shortages } = await appendEntry(writer, act);
    if (shortages.length > 0) {
      throw new Refused(shortages.map((one) => shownRefusal(one, act.circumstances.author)));
    }
    if (act.draft.kind.signsHead) await signHead(writer, this.#options.signer, entry);
    return entry;
  }
}

const requestKeyForm = /^[\w.:/-]{1,120}$/;

function refusedKey(why: string, key: string): Outcome {
  const refusal = refuse(coreRefusals, 'RequestKeyNotAccepted', {
    message: `The key ${key.slice(0, 120)} ${why}. Nothing was recorded.`,
    field: 'key',
    figures: { key: key.slice(0, 120) },
  });
  return { outcome: 'refused', refusals: [refusal] };
}

/** The digest of what a request asks, as it came. */
function hashOfRequest({ command, input }: Request): string {
  return sha256Hex(JSON.stringify([command, input]));
}

function fullDisk(): Outcome {
  return {
    outcome: 'refused',
    refusals: [
      refuse(coreRefusals, 'DiskFull', {
        message: 'The disk that holds the plant has no room left. Nothing of this was recorded.',
      }),
    ],
  };
}
