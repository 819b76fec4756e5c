import {
  type Store,
  StoreFull,
  type StoreReader,
  type StoreWriter,
  type Table,
} from '../../src/ports/store.ts';

/** What can happen to the machine during one write. */
export type MachineFault =
  | 'killed before commit'
  | 'killed after commit'
  | 'disk full at an append'
  | 'disk full at the commit';

/** The process has ended: nobody gets an answer. */
export class Killed extends Error {
  constructor() {
    super('the process of the plant has been killed');
    this.name = 'Killed';
  }
}

/**
 * A store as one process of the plant holds it. A fault that is armed falls into the next write.
 * After a kill this store is dead; what was committed stays in the store beneath.
 */
export class MortalStore implements Store {
  readonly plant: string;
  readonly reader: StoreReader;
  readonly #beneath: Store;
  #armed: MachineFault | undefined;
  #dead = false;

  constructor(beneath: Store) {
    this.#beneath = beneath;
    this.plant = beneath.plant;
    this.reader = beneath.reader;
  }

  /** Lets the fault fall into the next write. */
  arm(fault: MachineFault): void {
    this.#armed = fault;
  }

  get isArmed(): boolean {
    return this.#armed !== undefined;
  }

  prepare(tables: readonly Table[]): Promise<void> {
    return this.#beneath.prepare(tables);
  }

  async write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result> {
    if (this.#dead) throw new Killed();
    const fault = this.#armed;
    this.#armed = undefined;
    if (fault === 'killed after commit') {
      await this.#beneath.write(work);
      throw this.#die();
    }
    if (fault === undefined) return this.#beneath.write(work);
    return this.#beneath.write(async (writer) => {
      if (fault === 'disk full at an append') {
        return work({ ...writer, append: () => Promise.reject(new StoreFull('planted')) });
      }
      await work(writer);
      throw fault === 'killed before commit' ? this.#die() : new StoreFull('planted');
    });
  }

  close(): Promise<void> {
    return this.#beneath.close();
  }

  #die(): Killed {
    this.#dead = true;
    return new Killed();
  }
}
