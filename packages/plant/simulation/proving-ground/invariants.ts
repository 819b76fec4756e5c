import { balanceOfPlace, balances } from '../../src/journal/core-books.ts';
import { type Entry, entryHash, genesisHash } from '../../src/journal/entry.ts';
import { insidePlaces } from '../../src/journal/place.ts';
import { compareBooks, rebuildInto } from '../../src/journal/rebuild.ts';
import type { Store } from '../../src/ports/store.ts';
import { Auditor, compareWithBooks } from '../../src/stations/account/auditor.ts';
import type { Ground } from './ground.ts';
import { standardOf } from './world.ts';

/** Books are made anew when the journal has grown by this part since the last time. */
const growthBeforeRebuild = 0.5;

/** What must hold at any time, checked after each shift and once more at the end. */
export class Invariants {
  readonly #ground: Ground;
  readonly #emptyStore: () => Store;
  readonly #auditor = new Auditor();
  #checked = 0;
  #hash = genesisHash;
  #rebuiltAt = 0;
  rebuilds = 0;
  /** Entries that each command left, by author and key. */
  readonly #left = new Map<string, { first: number; last: number }>();

  /** `emptyStore` makes the store into which the books are made anew. */
  constructor(ground: Ground, emptyStore: () => Store) {
    this.#ground = ground;
    this.#emptyStore = emptyStore;
  }

  /** Checks everything that is new, and the whole journal and its books when it has grown enough. */
  async check({ isLast }: { readonly isLast: boolean }): Promise<void> {
    await this.#readNew();
    await this.#audit();
    this.#acknowledged();
    await this.#againstTruth();
    const grown = this.#checked - this.#rebuiltAt;
    if (!isLast && grown < growthBeforeRebuild * this.#rebuiltAt) return;
    this.#rebuiltAt = this.#checked;
    await this.#verify();
    await this.#rebuild();
  }

  #breach(what: string): void {
    this.#ground.hand.breach(what);
  }

  /** Number, text, hash and link of every new line. */
  async #readNew(): Promise<void> {
    const { reader } = this.#ground.plant.store;
    const lines = await reader.lines(this.#checked + 1, Number.MAX_SAFE_INTEGER);
    for (const line of lines) {
      const { number, previousHash, author, idempotencyKey } = JSON.parse(line.text) as Entry;
      const isLinked =
        number === this.#checked + 1 &&
        line.number === number &&
        previousHash === this.#hash &&
        entryHash(line.text) === line.hash;
      if (!isLinked) this.#breach(`entry ${line.number} does not follow the entry before it`);
      this.#checked = number;
      this.#hash = line.hash;
      this.#auditor.add(line.text);
      const key = `${author} ${idempotencyKey}`;
      const before = this.#left.get(key);
      if (before && before.last !== number - 1) {
        this.#breach(
          `the command ${key} is recorded twice, in entries ${before.first} and ${number}`,
        );
      }
      this.#left.set(key, { first: before?.first ?? number, last: number });
    }
  }

  /** Postings add up to nothing, and the books say what they add up to. */
  async #audit(): Promise<void> {
    const audit = this.#auditor.audit();
    const rows = (await this.#ground.plant.books.select(balances)).map((row) => ({
      place: row.place,
      metal: row.metal,
      pieceStandard: row.pieceStandard,
      melt: row.melt,
      pieces: String(row.pieces),
      grossMicrograms: String(row.grossMicrograms),
      fineMicrograms: String(row.fineMicrograms),
    }));
    for (const { entry, what } of [...audit.faults, ...compareWithBooks(audit, rows)]) {
      this.#breach(`the account, entry ${entry ?? 'none'}: ${what}`);
    }
  }

  /** What a client was told is recorded stands in the journal, whole and once. */
  #acknowledged(): void {
    const { acknowledged } = this.#ground.hand;
    for (const [key, { first, last }] of acknowledged) {
      const left = this.#left.get(key);
      if (left?.first === first && left.last === last) continue;
      this.#breach(
        `${key} was told of entries ${first} to ${last}; the journal has ${left?.first ?? 'none'}`,
      );
    }
    acknowledged.clear();
  }

  /** Where pieces and book differ after a close, a planted fault that nobody has found is the cause. */
  async #againstTruth(): Promise<void> {
    const { world, ledger, plant } = this.#ground;
    const standards = new Set(world.melts.map(standardOf));
    const differing = new Set<string>();
    for (const place of insidePlaces) {
      const rows = await balanceOfPlace(plant.books, place);
      for (const standard of standards) {
        const book = rows
          .filter((row) => row.pieceStandard === standard)
          .reduce((sum, row) => sum + row.pieces, 0);
        const truth = world.trulyAt(place, standard);
        if (book !== world.countedAt(place, standard)) differing.add(`${place} ${standard}`);
        if (book === truth || ledger.openAt(place, standard).length > 0) continue;
        this.#breach(
          `${place} is booked with ${book} of ${standard} and holds ${truth}; no planted fault explains it`,
        );
      }
    }
    ledger.merge((place, standard) => !differing.has(`${place} ${standard}`));
  }

  async #verify(): Promise<void> {
    const found = await this.#ground.plant.verify();
    if (!found.holds) this.#breach(`verification, entry ${found.entry}: ${found.why}`);
  }

  async #rebuild(): Promise<void> {
    const { plant } = this.#ground;
    this.rebuilds += 1;
    const rebuilt = this.#emptyStore();
    await rebuildInto(plant.store, rebuilt, plant.registry);
    const compared = await compareBooks(plant.store, rebuilt, plant.registry);
    for (const { book, equal, difference } of compared) {
      if (!equal) {
        this.#breach(
          `${book} rebuilt is ${difference?.rebuilt}, the book says ${difference?.live}`,
        );
      }
    }
    await rebuilt.close();
  }
}
