/** How often something was asked, and how long the answers took. */
export interface Timing {
  readonly count: number;
  readonly totalMilliseconds: number;
  readonly longestMilliseconds: number;
}

const nothing: Timing = { count: 0, totalMilliseconds: 0, longestMilliseconds: 0 };

/**
 * Waits for answers, by the name of what was asked. Acts that share a commit wait for one another,
 * so that their sum is more than the time of the work.
 */
export class Timings {
  readonly #byName = new Map<string, Timing>();

  /** Does the work and adds the time until its answer. */
  async of<Result>(name: string, work: () => Promise<Result>): Promise<Result> {
    const from = performance.now();
    try {
      return await work();
    } finally {
      this.#add(name, performance.now() - from);
    }
  }

  #add(name: string, milliseconds: number): void {
    const before = this.#byName.get(name);
    this.#byName.set(name, {
      count: (before?.count ?? 0) + 1,
      totalMilliseconds: (before?.totalMilliseconds ?? 0) + milliseconds,
      longestMilliseconds: Math.max(before?.longestMilliseconds ?? 0, milliseconds),
    });
  }

  /** The waits of several runs as one. */
  static together(all: readonly Timings[]): Timings {
    const sum = new Timings();
    for (const timings of all) {
      for (const [name, timing] of timings.#byName) {
        const before = sum.#byName.get(name) ?? nothing;
        sum.#byName.set(name, {
          count: before.count + timing.count,
          totalMilliseconds: before.totalMilliseconds + timing.totalMilliseconds,
          longestMilliseconds: Math.max(before.longestMilliseconds, timing.longestMilliseconds),
        });
      }
    }
    return sum;
  }

  get(name: string): Timing | undefined {
    return this.#byName.get(name);
  }

  /** Those whose longest wait was longest, first. */
  slowest(count: number): readonly (readonly [string, Timing])[] {
    return [...this.#byName]
      .sort(([, a], [, b]) => b.longestMilliseconds - a.longestMilliseconds)
      .slice(0, count);
  }
}
