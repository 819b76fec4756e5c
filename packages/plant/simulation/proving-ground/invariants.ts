import {
  type BalanceRow,
  balances,
  placeBalances,
  sumsOfPlace,
} from '../../src/journal/core-books.ts';
import { type Entry, entryHash, genesisHash } from '../../src/journal/entry.ts';
import { insidePlaces } from '../../src/journal/place.ts';
import { compareBooks, rebuildInto } from '../../src/journal/rebuild.ts';
import type { Store } from '../../src/ports/store.ts';
import {
  type AuditedBalance,
  type AuditFault,
  Auditor,
  compareWithBooks,
} from '../../src/stations/account/auditor.ts';
import { CommandsLeft } from './commands-left.ts';
import type { Ground } from './ground.ts';

/** Books are made anew when the journal has grown by this part since the last time. */
const growthBeforeRebuild = 0.5;

/** Lines that are read at once. */
const pageLines = 1000;

const bookedAs = (row: BalanceRow): AuditedBalance => ({
  place: row.place,
  metal: row.metal,
  pieceStandard: row.pieceStandard,
  melt: row.melt,
  pieces: String(row.pieces),
  grossMicrograms: String(row.grossMicrograms),
  fineMicrograms: String(row.fineMicrograms),
});

/** The sums over all melts, as the book of places should have them. */
function sumsOf(rows: readonly AuditedBalance[]): ReadonlyMap<string, string> {
  const sums = new Map<string, bigint[]>();
  for (const row of rows) {
    const key = [row.place, row.metal, row.pieceStandard].join(' / ');
    const figures = [row.pieces, row.grossMicrograms, row.fineMicrograms].map(BigInt);
    const before = sums.get(key) ?? [0n, 0n, 0n];
    sums.set(
      key,
      before.map((sum, at) => sum + (figures[at] ?? 0n)),
    );
  }
  return new Map([...sums].map(([key, sum]) => [key, sum.join(', ')]));
}

/** What must hold at any time: what is new after each shift, and all of it when the journal has grown. */
export class Invariants {
  readonly #ground: Ground;
  readonly #emptyStore: () => Store;
  #copy: Store | undefined;
  readonly #auditor = new Auditor();
  #checked = 0;
  #hash = genesisHash;
  #rebuiltAt = 0;
  rebuilds = 0;
  readonly #left = new CommandsLeft();

  /** `emptyStore` makes the store into which the books are made anew. */
  constructor(ground: Ground, emptyStore: () => Store) {
    this.#ground = ground;
    this.#emptyStore = emptyStore;
  }

  /** Checks everything that is new, and the whole journal and its books when it has grown enough. */
  async check({ isLast }: { readonly isLast: boolean }): Promise<void> {
    await this.#readNew();
    await this.#auditNew();
    this.#acknowledged();
    await this.#againstTruth();
    const grown = this.#checked - this.#rebuiltAt;
    if (!isLast && grown < growthBeforeRebuild * this.#rebuiltAt) return;
    this.#rebuiltAt = this.#checked;
    await this.#auditAll();
    await this.#verify();
    await this.#rebuild({ isLast });
  }

  #breach(what: string): void {
    this.#ground.hand.breach(what);
  }

  /** Number, text, hash and link of every new line. */
  async #readNew(): Promise<void> {
    const { reader } = this.#ground.plant.store;
    for (;;) {
      const first = this.#checked + 1;
      const lines = await reader.lines(first, first + pageLines);
      for (const line of lines) {
        const { number, previousHash, idempotencyKey } = JSON.parse(line.text) as Entry;
        const isLinked =
          number === this.#checked + 1 &&
          line.number === number &&
          previousHash === this.#hash &&
          entryHash(line.text) === line.hash;
        if (!isLinked) this.#breach(`entry ${line.number} does not follow the entry before it`);
        this.#checked = number;
        this.#hash = line.hash;
        this.#auditor.add(line.text);
        this.#noteCommand(idempotencyKey, number);
      }
      if (lines.length < pageLines) return;
    }
  }

  #noteCommand(key: string, number: number): void {
    const before = this.#left.add(key, number);
    if (!before || before.last === number - 1) return;
    const entries = `${before.first} and ${number}`;
    this.#breach(`the command ${key} is recorded twice, in entries ${entries}`);
  }

  /** The balances that new postings have changed are in the books as the journal gives them. */
  async #auditNew(): Promise<void> {
    const { books } = this.#ground.plant;
    const { balances: changed, faults } = this.#auditor.news();
    const booked: AuditedBalance[] = [];
    for (const { place, metal, pieceStandard, melt } of changed) {
      const row = await books.get(balances, place, metal, pieceStandard, melt);
      if (row) booked.push(bookedAs(row));
    }
    const audit = { entries: 0, postings: 0, balances: changed, faults };
    this.#tell([...faults, ...compareWithBooks(audit, booked)]);
  }

  /** All postings add up to nothing, and the books say what they add up to, by melt and altogether. */
  async #auditAll(): Promise<void> {
    const { books } = this.#ground.plant;
    const audit = this.#auditor.audit();
    const rows = (await books.select(balances)).map(bookedAs);
    this.#tell([...audit.faults, ...compareWithBooks(audit, rows)]);
    const sums = sumsOf(audit.balances);
    for (const row of await books.select(placeBalances)) {
      const key = [row.place, row.metal, row.pieceStandard].join(' / ');
      const book = [row.pieces, row.grossMicrograms, row.fineMicrograms].join(', ');
      if (sums.get(key) === book) continue;
      const what = `${key}: the journal adds up to ${sums.get(key)}; the book of places says ${book}`;
      this.#tell([{ entry: null, what }]);
    }
  }

  #tell(faults: readonly AuditFault[]): void {
    for (const { entry, what } of faults) {
      this.#breach(`the account, entry ${entry ?? 'none'}: ${what}`);
    }
  }

  /** What a client was told is recorded stands in the journal, whole and once. */
  #acknowledged(): void {
    const { acknowledged } = this.#ground.hand;
    for (const [key, { first, last }] of acknowledged) {
      const left = this.#left.of(key);
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
    const standards = this.#ground.standards.map(({ pieceStandard }) => pieceStandard);
    const differing = new Set<string>();
    for (const place of insidePlaces) {
      const rows = await sumsOfPlace(plant.books, place);
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

  /** The books are made from the journal in a second store, which is carried on from check to check. */
  async #rebuild({ isLast }: { readonly isLast: boolean }): Promise<void> {
    const { plant } = this.#ground;
    this.rebuilds += 1;
    const rebuilt = this.#copy ?? this.#emptyStore();
    this.#copy = rebuilt;
    await rebuildInto(plant.store, rebuilt, plant.registry);
    const compared = await compareBooks(plant.store, rebuilt, plant.registry);
    for (const { book, equal, difference } of compared) {
      if (!equal) {
        this.#breach(
          `${book} rebuilt is ${difference?.rebuilt}, the book says ${difference?.live}`,
        );
      }
    }
    if (isLast) await rebuilt.close();
  }
}
