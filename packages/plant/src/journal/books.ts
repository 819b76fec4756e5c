import type { JsonObject } from '../ports/json.ts';
import type { IndexValue, Selection, StoreReader, StoreWriter, Table } from '../ports/store.ts';

/**
 * A book: a table of what is so, derived from entries and from nothing else. The type parameter is
 * the shape of its records; the fields of key and indexes hold text or whole numbers.
 */
export interface Book<Row extends JsonObject = JsonObject> extends Table {
  /** One sentence: what a record of this book says. */
  readonly meaning: string;
  /** Only in the type: the shape of a record. */
  readonly row?: Row;
}

/** Declares a book. */
export function defineBook<Row extends JsonObject>(declaration: {
  name: string;
  meaning: string;
  key: readonly (keyof Row & string)[];
  indexes?: Readonly<Record<string, readonly (keyof Row & string)[]>>;
  edition?: number;
}): Book<Row> {
  return Object.freeze({ ...declaration, indexes: declaration.indexes ?? {} });
}

/** Reads books. */
export interface BookReader {
  get<Row extends JsonObject>(book: Book<Row>, ...key: IndexValue[]): Promise<Row | undefined>;
  select<Row extends JsonObject>(book: Book<Row>, selection?: Selection): Promise<readonly Row[]>;
}

/** Writes books; only the fold of an entry does. */
export interface BookWriter extends BookReader {
  put<Row extends JsonObject>(book: Book<Row>, row: Row): Promise<void>;
  remove<Row extends JsonObject>(book: Book<Row>, ...key: IndexValue[]): Promise<void>;
}

/** Books as the store holds them. */
export function bookReader(store: StoreReader): BookReader {
  return {
    get: async <Row extends JsonObject>(book: Book<Row>, ...key: IndexValue[]) =>
      (await store.record(book, key)) as Row | undefined,
    select: async <Row extends JsonObject>(book: Book<Row>, selection?: Selection) =>
      (await store.records(book, selection)) as readonly Row[],
  };
}

/** Books inside a write. */
export function bookWriter(store: StoreWriter): BookWriter {
  return {
    ...bookReader(store),
    put: (book, row) => store.put(book, row),
    remove: (book, ...key) => store.remove(book, key),
  };
}
