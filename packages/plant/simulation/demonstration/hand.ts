import type { RecordedEntry } from '../../src/journal/entry.ts';
import type { Outcome, Recorder } from '../../src/journal/recorder.ts';
import type { Clock } from '../../src/ports/clock.ts';
import type { JsonObject } from '../../src/ports/json.ts';
import type { PersonId } from './cast.ts';

/** A clock that stands until it is moved on. */
export class VirtualClock implements Clock {
  #milliseconds: number;

  constructor(milliseconds: number) {
    this.#milliseconds = milliseconds;
  }

  now(): number {
    return this.#milliseconds;
  }

  /** Moves on by so many seconds. */
  pass(seconds: number): void {
    this.#milliseconds += Math.round(seconds * 1000);
  }

  /** Moves on to an instant; a clock never goes back. */
  reach(milliseconds: number): void {
    this.#milliseconds = Math.max(this.#milliseconds, milliseconds);
  }
}

/** What a command of the demonstration led to. */
export type Recorded = Extract<Outcome, { outcome: 'recorded' }>;

/** Does the plant's work through its real commands, each taking its time. */
export class Hand {
  readonly clock: VirtualClock;
  readonly #recorder: Recorder;
  #commands = 0;

  constructor(recorder: Recorder, clock: VirtualClock) {
    this.#recorder = recorder;
    this.clock = clock;
  }

  /** Sends a command and answers what became of it. */
  async ask(options: {
    readonly by: PersonId | 'plant';
    readonly with?: PersonId;
    readonly command: string;
    readonly input: object;
    /** Seconds that the work takes before it is recorded. */
    readonly seconds?: number;
  }): Promise<Outcome> {
    this.clock.pass(options.seconds ?? 40);
    this.#commands += 1;
    const request = {
      command: options.command,
      input: options.input,
      author: options.by,
      signed: true,
      idempotencyKey: `demonstration-${this.#commands}`,
    };
    return this.#recorder.record(
      options.with === undefined ? request : { ...request, witness: options.with },
    );
  }

  /** Sends a command that must be recorded; a refusal here is an error of the demonstration. */
  async do(options: Parameters<Hand['ask']>[0]): Promise<Recorded> {
    const outcome = await this.ask(options);
    if (outcome.outcome === 'recorded') return outcome;
    const reasons = outcome.refusals.map(({ refusal, message }) => `${refusal}: ${message}`);
    throw new Error(`${options.command} by ${options.by} was refused: ${reasons.join(' ')}`);
  }

  /** Sends a command that must be refused for that reason. */
  async beRefused(refusal: string, options: Parameters<Hand['ask']>[0]): Promise<void> {
    const outcome = await this.ask(options);
    const names = outcome.outcome === 'refused' ? outcome.refusals.map((item) => item.refusal) : [];
    if (!names.includes(refusal)) {
      throw new Error(`${options.command} was to be refused with ${refusal}, not ${names}`);
    }
  }
}

/** The body of the first entry of that kind. */
export function bodyOf(recorded: Recorded, kind: string): JsonObject {
  const entry = recorded.entries.find((item: RecordedEntry) => item.kind === kind);
  if (!entry) throw new Error(`no entry of kind ${kind} was recorded`);
  return entry.body;
}
