/** The entries that one command left. */
interface Left {
  readonly first: number;
  readonly last: number;
}

const numbered = /^proof-(\d+)$/;

/**
 * Which entries each command left, by the number in its key: a year has hundreds of thousands of
 * commands, and two numbers for each are all that is kept.
 */
export class CommandsLeft {
  readonly #first: number[] = [];
  readonly #last: number[] = [];

  /** Notes an entry of a command; answers what it had left before. */
  add(key: string, entry: number): Left | undefined {
    const command = this.#numberOf(key);
    const before = this.#at(command);
    this.#first[command] = before?.first ?? entry;
    this.#last[command] = entry;
    return before;
  }

  of(key: string): Left | undefined {
    return this.#at(this.#numberOf(key));
  }

  #at(command: number): Left | undefined {
    const [first, last] = [this.#first[command] ?? 0, this.#last[command] ?? 0];
    return first > 0 ? { first, last } : undefined;
  }

  #numberOf(key: string): number {
    const command = Number(numbered.exec(key)?.[1] ?? Number.NaN);
    if (!Number.isSafeInteger(command)) throw new RangeError(`${key} is no key of a command here`);
    // No hole is left in the list, so that it stays a plain list of numbers.
    for (let at = this.#first.length; at <= command; at += 1) {
      this.#first.push(0);
      this.#last.push(0);
    }
    return command;
  }
}
