import { Worker } from 'node:worker_threads';
import type { CalculationAnswer } from '@cupel/calculation';
import { Fault } from '../journal/fault.ts';

/** A calculation that was stopped before its end, with the reason in words. */
export class CalculationStopped extends Error {}

/** So many calculations run at once; others wait their turn. */
const mostThreads = 2;

/** A calculation that takes longer than this is stopped; the command line knows no such limit. */
const longestSeconds = 120;

interface Turn {
  readonly id: string;
  readonly input: unknown;
  readonly signal: AbortSignal;
  readonly resolve: (answer: CalculationAnswer) => void;
  readonly reject: (error: Error) => void;
}

/** Threads that calculate beside the server; a stopped calculation takes its thread with it. */
export class CalculationThreads {
  #idle: Worker[] = [];
  #busy = 0;
  #waiting: Turn[] = [];

  /** Runs a calculation; the signal stops it, whether it waits or runs. */
  run(id: string, input: unknown, signal: AbortSignal): Promise<CalculationAnswer> {
    return new Promise((resolve, reject) => {
      this.#waiting.push({ id, input, signal, resolve, reject });
      this.#next();
    });
  }

  /** The output of a calculation for a station, which is at fault when its input is refused. */
  async output(id: string, input: object, signal: AbortSignal): Promise<object> {
    const answer = await this.run(id, input, signal);
    if (answer.outcome === 'computed') return answer.output as object;
    const [problem] = answer.problems;
    throw new Fault(`${id} refuses ${problem?.field}: ${problem?.accepted}`);
  }

  /** Ends every thread that waits for work. */
  async close(): Promise<void> {
    await Promise.all(this.#idle.splice(0).map((thread) => thread.terminate()));
  }

  #next(): void {
    if (this.#busy >= mostThreads) return;
    const turn = this.#waiting.shift();
    if (!turn) return;
    if (turn.signal.aborted) {
      turn.reject(new CalculationStopped('The calculation was stopped.'));
      this.#next();
      return;
    }
    this.#busy += 1;
    void this.#work(turn, this.#idle.pop() ?? newThread()).finally(() => {
      this.#busy -= 1;
      this.#next();
    });
  }

  async #work(turn: Turn, thread: Worker): Promise<void> {
    try {
      turn.resolve(await answerOf(thread, turn));
      this.#idle.push(thread);
    } catch (error) {
      turn.reject(error as Error);
      await thread.terminate();
    }
  }
}

/**
 * Calculations leave much behind that lives for a moment only. With so little room for it a thread grows by about
 * half as much, and takes no longer.
 */
const mostYoungMegabytes = 8;

function newThread(): Worker {
  const thread = new Worker(new URL('./calculation-thread.ts', import.meta.url), {
    resourceLimits: { maxYoungGenerationSizeMb: mostYoungMegabytes },
  });
  // A thread without work keeps no process alive.
  thread.unref();
  return thread;
}

/** Asks a thread once and takes every listener off again. */
async function answerOf(thread: Worker, turn: Turn): Promise<CalculationAnswer> {
  const ended = new AbortController();
  const limit = AbortSignal.timeout(longestSeconds * 1000);
  try {
    return await new Promise<CalculationAnswer>((resolve, reject) => {
      const stop = (words: string) => () => reject(new CalculationStopped(words));
      const { signal } = ended;
      turn.signal.addEventListener('abort', stop('The calculation was stopped.'), { signal });
      limit.addEventListener(
        'abort',
        stop(
          `The calculation took longer than ${longestSeconds} s here and was stopped; the command line runs it without this limit.`,
        ),
        { signal },
      );
      thread.once('error', reject);
      thread.once('message', (message: { answer?: CalculationAnswer; fault?: string }) => {
        thread.off('error', reject);
        if (message.answer) resolve(message.answer);
        else reject(new Error(message.fault));
      });
      thread.postMessage({ id: turn.id, input: turn.input });
    });
  } finally {
    ended.abort();
  }
}
