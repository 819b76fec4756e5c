import type { JsonObject } from '../ports/json.ts';
import type { IndexValue, ReadableStore, Store, StoreWriter, Table } from '../ports/store.ts';
import { applyEntry } from './append.ts';
import { canonicalText, parseEntry } from './entry.ts';
import { invariant } from './fault.ts';
import type { Registry } from './plant.ts';

/** How one book of a rebuilt plant compares with the live one. */
export interface BookComparison {
  readonly book: string;
  /** Records of the live book. */
  readonly records: number;
  readonly equal: boolean;
  /** The first record that differs, as canonical text on both sides; absent when equal. */
  readonly difference?: { readonly live: string | null; readonly rebuilt: string | null };
}

/** How many lines are read and folded at once. */
const pageSize = 1000;
/** Records compared in one page: a record of a certificate alone can be a megabyte. */
const recordsAtOnce = 50;

/**
 * Makes the books of a plant from its own journal and from nothing else. One write: whoever reads
 * meanwhile, or an end of the process, finds the books of before.
 */
export async function rebuildBooks(store: Store, registry: Registry): Promise<number> {
  return store.write(async (writer) => {
    await writer.clear(registry.books);
    let number = 0;
    for (;;) {
      const folded = await foldPage(store, writer, { first: number + 1, registry });
      if (folded === 0) return number;
      number += folded;
    }
  });
}

/**
 * Copies the journal of `source` to another store and makes the books there from nothing else. A
 * store that holds its beginning already is carried on from there. Answers how many entries it holds.
 */
export async function rebuildInto(
  source: ReadableStore,
  target: Store,
  registry: Registry,
): Promise<number> {
  await target.prepare(registry.books);
  let number = (await target.reader.lastLine())?.number ?? 0;
  for (;;) {
    const first = number + 1;
    const folded = await target.write((writer) =>
      foldPage(source, writer, { first, registry, copyLines: true }),
    );
    if (folded === 0) break;
    number += folded;
  }
  const held = new Set((await target.reader.heads()).map(({ treeSize }) => treeSize));
  const heads = await source.reader.heads();
  await target.write(async (writer) => {
    for (const head of heads) {
      if (head.treeSize <= number && !held.has(head.treeSize)) await writer.putHead(head);
    }
  });
  return number;
}

/** Folds one page of the journal into the books; answers how many entries it held. */
async function foldPage(
  source: ReadableStore,
  writer: StoreWriter,
  options: { first: number; registry: Registry; copyLines?: boolean },
): Promise<number> {
  const { first, registry, copyLines } = options;
  const lines = await source.reader.lines(first, first + pageSize);
  for (const line of lines) {
    const entry = parseEntry(line);
    const kind = registry.kind(entry.kind);
    invariant(kind, `no station knows the kind ${entry.kind} of entry ${entry.number}`);
    if (copyLines) await writer.append(line);
    await applyEntry(writer, entry, kind);
  }
  return lines.length;
}

/** Every record of a table in the order of its key, a page at a time. */
async function* recordsOf(store: ReadableStore, table: Table): AsyncGenerator<JsonObject> {
  let after: readonly IndexValue[] | undefined;
  for (;;) {
    const selection = after ? { after, limit: recordsAtOnce } : { limit: recordsAtOnce };
    const page = await store.reader.records(table, selection);
    yield* page;
    if (page.length < recordsAtOnce) return;
    const last = page.at(-1) as JsonObject;
    after = table.key.map((field) => last[field] as IndexValue);
  }
}

/** Compares the books of two stores, table by table and record by record. */
export async function compareBooks(
  live: ReadableStore,
  rebuilt: ReadableStore,
  registry: Registry,
): Promise<readonly BookComparison[]> {
  const comparisons: BookComparison[] = [];
  for (const book of registry.books) comparisons.push(await compareBook(live, rebuilt, book));
  return comparisons;
}

/** How two records differ, as canonical text; the texts as they come show it for nearly every pair. */
function differenceOf(
  live: JsonObject | undefined,
  rebuilt: JsonObject | undefined,
): BookComparison['difference'] {
  if (live && rebuilt && JSON.stringify(live) === JSON.stringify(rebuilt)) return undefined;
  const texts = {
    live: live ? canonicalText(live) : null,
    rebuilt: rebuilt ? canonicalText(rebuilt) : null,
  };
  return texts.live === texts.rebuilt ? undefined : texts;
}

async function compareBook(
  live: ReadableStore,
  rebuilt: ReadableStore,
  book: Table,
): Promise<BookComparison> {
  const left = recordsOf(live, book);
  const right = recordsOf(rebuilt, book);
  let records = 0;
  let difference: BookComparison['difference'];
  for (;;) {
    const [a, b] = [await left.next(), await right.next()];
    if (a.done && b.done) break;
    if (!a.done) records += 1;
    if (difference === undefined) difference = differenceOf(a.value, b.value);
  }
  return difference
    ? { book: book.name, records, equal: false, difference }
    : { book: book.name, records, equal: true };
}
