import type { JsonObject } from './json.ts';

/** A value that a table may be ordered by: text, or a whole number within ±2^53. */
export type IndexValue = string | number;

/** A table of records derived from the journal. The plant is always the first part of its key. */
export interface Table {
  /** Snake-case name, unique in the store. */
  readonly name: string;
  /** Fields of the record that identify it. */
  readonly key: readonly string[];
  /** Further orders in which the records are read, by name: the fields that make the order. */
  readonly indexes: Readonly<Record<string, readonly string[]>>;
  /**
   * Counts the shapes that its records have had, from 2 on. A table of another edition is made anew
   * from the journal, though its key is the same.
   */
  readonly edition?: number;
}

/** Which records to read: those whose leading order fields equal `prefix`, in that order. */
export interface Selection {
  /** Name of an index of the table; the key when left out. */
  readonly by?: string;
  readonly prefix?: readonly IndexValue[];
  /** The order field after the prefix is at least this. */
  readonly from?: IndexValue;
  /** The order field after the prefix is less than this. */
  readonly below?: IndexValue;
  /**
   * Only records that stand behind this place in the order read: a value for every field of the
   * order and then for every field of the key that the order does not name. The next page begins
   * behind the last record of the page before.
   */
  readonly after?: readonly IndexValue[];
  readonly limit?: number;
  readonly descending?: boolean;
}

/** One line of the journal as the store keeps it: its number, its bytes and the hash of the bytes' entry. */
export interface StoredLine {
  readonly number: number;
  /** The entry as canonical JSON text. */
  readonly text: string;
  /** SHA-256 in lower-case hexadecimal digits. */
  readonly hash: string;
}

/** A signed head of the Merkle tree, as evidence beside the journal. */
export interface StoredHead {
  readonly treeSize: number;
  readonly text: string;
}

/** What can be read. A reader outside a write sees only what has been committed. */
export interface StoreReader {
  lastLine(): Promise<StoredLine | undefined>;
  line(number: number): Promise<StoredLine | undefined>;
  /** Lines with first ≤ number < below, in order of number. */
  lines(first: number, below: number): Promise<readonly StoredLine[]>;
  record(table: Table, key: readonly IndexValue[]): Promise<JsonObject | undefined>;
  records(table: Table, selection?: Selection): Promise<readonly JsonObject[]>;
  /** The newest head whose tree holds at least that many entries: the smallest such tree. */
  headCovering(treeSize: number): Promise<StoredHead | undefined>;
  heads(): Promise<readonly StoredHead[]>;
}

/** What can be changed inside one write. */
export interface StoreWriter extends StoreReader {
  /** Appends the next line; a number that does not follow the last one is a fault. */
  append(line: StoredLine): Promise<void>;
  put(table: Table, record: JsonObject): Promise<void>;
  remove(table: Table, key: readonly IndexValue[]): Promise<void>;
  putHead(head: StoredHead): Promise<void>;
  /** Empties the tables, making those that are missing or of another shape, so that books can be made anew. */
  clear(tables: readonly Table[]): Promise<void>;
  /**
   * Runs a part of the write that is undone as a whole when it throws, while the rest stays.
   * Parts do not nest.
   */
  part<Result>(work: () => Promise<Result>): Promise<Result>;
}

/** The disk has no room, or a quota or file size limit is reached: nothing of the write was recorded. */
export class StoreFull extends Error {
  constructor(cause: unknown) {
    super('the disk that holds the plant has no room left', { cause });
    this.name = 'StoreFull';
  }
}

/** Another process holds the plant open for writing. */
export class StoreHeld extends Error {
  constructor(path: string) {
    super(`another process holds this plant open for writing: ${path}`);
    this.name = 'StoreHeld';
  }
}

/** The tables of a plant with a journal are not those that the stations declare: they are to be made anew. */
export class BooksOutdated extends Error {
  constructor(table: string) {
    super(
      `the table ${table} is missing, or of another version; make the books anew with: cupel journal rebuild`,
    );
    this.name = 'BooksOutdated';
  }
}

/** One plant's journal and books, to be read. */
export interface ReadableStore {
  readonly plant: string;
  readonly reader: StoreReader;
  close(): Promise<void>;
}

/** A store of one plant's journal and books. Writes follow one another; each is durable when it resolves. */
export interface Store extends ReadableStore {
  /**
   * Makes the tables of a plant without entries. With entries, tables that are missing or of another
   * shape would hold less than the journal says: they are refused with BooksOutdated. Called once,
   * before the first write.
   */
  prepare(tables: readonly Table[]): Promise<void>;
  /** One write: all of it durable, or none of it. */
  write<Result>(work: (writer: StoreWriter) => Promise<Result>): Promise<Result>;
}
