import type { Chance } from '../chance.ts';
import type { SteppingClock } from './stepping-clock.ts';

/** Work that one person does beside the others. */
export interface Job {
  readonly name: string;
  readonly work: () => Promise<void>;
}

/** Work that ended with an error instead of its end. */
interface Halt {
  readonly job: string;
  readonly error: Error;
}

interface Turn {
  readonly at: number;
  readonly go: () => void;
}

/** Acts that fall into one such time reach the server together. */
const togetherMilliseconds = 20_000;

/**
 * People at work at the same time, in virtual time. Each says how long the next act takes; when all
 * wait, those who are ready first go on together, in an order of chance. The same seed gives the
 * same order.
 */
export class Crew {
  readonly #clock: SteppingClock;
  readonly #chance: Chance;
  #waiting: Turn[] = [];
  #live = 0;
  #noticed: (() => void) | undefined;
  #onTurn: () => void = () => undefined;

  constructor(clock: SteppingClock, chance: Chance) {
    this.#clock = clock;
    this.#chance = chance;
  }

  /** Told each time before people go on. */
  onTurn(listener: () => void): void {
    this.#onTurn = listener;
  }

  /** Waits until so many seconds of work are done. */
  turn(seconds: number): Promise<void> {
    return new Promise((go) => {
      this.#waiting.push({ at: this.#clock.trueTime() + Math.round(seconds * 1000), go });
      this.#notice();
    });
  }

  /** Works until every job has ended; answers those that ended with an error. */
  async work(jobs: readonly Job[]): Promise<readonly Halt[]> {
    const halts: Halt[] = [];
    this.#live = jobs.length;
    const all = jobs.map(async ({ name, work }) => {
      try {
        await work();
      } catch (error) {
        halts.push({ job: name, error: error as Error });
      }
      this.#live -= 1;
      this.#notice();
    });
    while (this.#live > 0) {
      if (this.#waiting.length === this.#live) this.#goOn();
      else await this.#notices();
    }
    await Promise.all(all);
    return halts;
  }

  /** Jobs within a job: the one who asks waits until all have ended; the first error is thrown on. */
  async together(jobs: readonly (() => Promise<void>)[]): Promise<void> {
    if (jobs.length === 0) return;
    const errors: unknown[] = [];
    let left = jobs.length;
    this.#live += jobs.length - 1;
    await Promise.all(
      jobs.map(async (work) => {
        try {
          await work();
        } catch (error) {
          errors.push(error);
        }
        left -= 1;
        // The last one gives the place back to the one who asked.
        if (left > 0) this.#live -= 1;
        this.#notice();
      }),
    );
    if (errors.length > 0) throw errors[0];
  }

  #goOn(): void {
    const first = Math.min(...this.#waiting.map(({ at }) => at));
    const ready = this.#waiting.filter(({ at }) => at <= first + togetherMilliseconds);
    this.#waiting = this.#waiting.filter(({ at }) => at > first + togetherMilliseconds);
    this.#reach(Math.max(...ready.map(({ at }) => at)));
    this.#onTurn();
    for (let left = ready.length; left > 0; left -= 1) {
      const [turn] = ready.splice(this.#chance.whole(0, left - 1), 1);
      turn?.go();
    }
  }

  #reach(milliseconds: number): void {
    this.#clock.pass(Math.max(0, milliseconds - this.#clock.trueTime()) / 1000);
  }

  #notices(): Promise<void> {
    return new Promise((resolve) => {
      this.#noticed = resolve;
    });
  }

  #notice(): void {
    this.#noticed?.();
    this.#noticed = undefined;
  }
}
