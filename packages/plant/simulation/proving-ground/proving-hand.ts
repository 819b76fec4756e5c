import type { Outcome, Request } from '../../src/journal/recorder.ts';
import { Hand } from '../demonstration/hand.ts';
import type { Crew } from './crew.ts';
import type { Ledger } from './ledger.ts';
import { Killed } from './mortal-store.ts';
import type { ProvingPlant } from './proving-plant.ts';
import { Timings } from './timings.ts';

/** Something that must never happen, with what led to it. */
export interface Breach {
  readonly shift: string;
  readonly what: string;
  /** The command at which it showed, with its input: the smallest that is known to lead there. */
  readonly command: string | null;
}

/** The entries of a command that a client was told are recorded. */
interface Acknowledged {
  readonly first: number;
  readonly last: number;
}

/** So often a command is sent again before the client gives up. */
const mostAttempts = 20;

const numbersOf = (outcome: Outcome): string =>
  outcome.outcome === 'recorded' ? outcome.entries.map(({ number }) => number).join(' ') : '';

const isFullDisk = (outcome: Outcome): boolean =>
  outcome.outcome === 'refused' && outcome.refusals.some(({ refusal }) => refusal === 'DiskFull');

/** Sends the commands of everybody, each under a key of its own, again with the same key when no answer came. */
export class ProvingHand extends Hand {
  readonly breaches: Breach[] = [];
  readonly refusals = new Map<string, number>();
  readonly acknowledged = new Map<string, Acknowledged>();
  commands = 0;
  readonly timings = new Timings();
  readonly #plant: ProvingPlant;
  readonly #crew: Crew;
  readonly #ledger: Ledger;
  readonly #declared: ReadonlySet<string>;

  constructor(options: {
    plant: ProvingPlant;
    crew: Crew;
    ledger: Ledger;
    declared: ReadonlySet<string>;
  }) {
    super(options.plant.recorder, options.plant.clock);
    this.#plant = options.plant;
    this.#crew = options.crew;
    this.#ledger = options.ledger;
    this.#declared = options.declared;
  }

  override async ask(options: Parameters<Hand['ask']>[0]): Promise<Outcome> {
    await this.#crew.turn(options.seconds ?? 40);
    this.commands += 1;
    const { by, command, input, with: witness } = options;
    const idempotencyKey = `proof-${this.commands}`;
    const request = { command, input, author: by, signed: true, idempotencyKey };
    const outcome = await this.#send(witness === undefined ? request : { ...request, witness });
    this.#note(outcome, idempotencyKey, command);
    return outcome;
  }

  /** Does what a person does who waits in vain or is impatient. */
  async #send(request: Request): Promise<Outcome> {
    if (this.#ledger.happens('sent twice at once')) {
      this.#machine('sent twice at once', request);
      const both = await Promise.all([this.#until(request), this.#until(request)]);
      return this.#same(request, both[0], both[1]);
    }
    const outcome = await this.#until(request);
    if (!this.#ledger.happens('answer lost')) return outcome;
    this.#machine('answer lost', request);
    return this.#same(request, outcome, await this.#until(request));
  }

  #machine(kind: 'sent twice at once' | 'answer lost', request: Request): void {
    this.#ledger.plant(kind, { words: `${request.command}, ${kind}`, seenAt: ['machine'] });
  }

  /** Sends until an answer comes: through a process that was killed, and past a full disk. */
  async #until(request: Request): Promise<Outcome> {
    for (let attempt = 1; attempt <= mostAttempts; attempt += 1) {
      const { recorder } = this.#plant;
      try {
        const outcome = await this.timings.of(request.command, () => recorder.record(request));
        if (!isFullDisk(outcome)) return outcome;
      } catch (error) {
        if (!(error instanceof Killed)) {
          this.breach(`${(error as Error).name}: ${(error as Error).message}`, request);
          throw error;
        }
        this.#plant.restartAfter(recorder);
      }
    }
    throw new Error(`${request.command} had no answer after ${mostAttempts} attempts`);
  }

  /** Two answers to one request must speak of the same entries. */
  #same(request: Request, first: Outcome, second: Outcome): Outcome {
    const wasRecorded = first.outcome === 'recorded';
    if (wasRecorded && numbersOf(first) !== numbersOf(second)) {
      this.breach(
        `sent again it was ${numbersOf(second) || 'refused'}, not ${numbersOf(first)}`,
        request,
      );
    }
    return wasRecorded ? first : second;
  }

  breach(what: string, request: Request | null = null): void {
    const command = request && JSON.stringify(request);
    this.breaches.push({ shift: this.#ledger.shift, what, command });
  }

  #note(outcome: Outcome, key: string, command: string): void {
    if (outcome.outcome === 'recorded') {
      const [first, last] = [outcome.entries.at(0), outcome.entries.at(-1)];
      if (first && last) this.acknowledged.set(key, { first: first.number, last: last.number });
      return;
    }
    for (const { refusal } of outcome.refusals) {
      this.refusals.set(refusal, (this.refusals.get(refusal) ?? 0) + 1);
      if (!this.#declared.has(refusal))
        this.breach(`${command} was refused with ${refusal}, which nobody declares`);
    }
  }
}

/** The names of the refusals of an outcome; none when it was recorded. */
export function refusalNames(outcome: Outcome): readonly string[] {
  return outcome.outcome === 'refused' ? outcome.refusals.map(({ refusal }) => refusal) : [];
}
