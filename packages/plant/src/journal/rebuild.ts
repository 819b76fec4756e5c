import type { Store } from '../ports/store.ts';
import { canonicalText, parseEntry } from './entry.ts';
import { invariant } from './fault.ts';
import type { Registry } from './plant.ts';
import { applyEntry } from './recorder.ts';

/** How one book of a rebuilt plant compares with the live one. */
export interface BookComparison {
  readonly book: string;
  readonly records: number;
  readonly equal: boolean;
  /** The first record that differs, as canonical text on both sides; absent when equal. */
  readonly difference?: { readonly live: string | null; readonly rebuilt: string | null };
}

/** Makes the books of `target` from the journal of `source` and from nothing else. */
export async function rebuildBooks(
  source: Store,
  target: Store,
  registry: Registry,
): Promise<number> {
  await target.prepare(registry.books);
  await target.clear(registry.books);
  let number = 0;
  for (;;) {
    const lines = await source.reader.lines(number + 1, number + 501);
    if (lines.length === 0) return number;
    await target.write(async (writer) => {
      for (const line of lines) {
        const entry = parseEntry(line);
        const kind = registry.kind(entry.kind);
        invariant(kind, `no station knows the kind ${entry.kind} of entry ${entry.number}`);
        if (source !== target) await writer.append(line);
        await applyEntry(writer, entry, kind);
      }
    });
    number += lines.length;
  }
}

/** Compares the books of two stores, table by table and record by record. */
export async function compareBooks(
  live: Store,
  rebuilt: Store,
  registry: Registry,
): Promise<readonly BookComparison[]> {
  const comparisons: BookComparison[] = [];
  for (const book of registry.books) {
    const left = (await live.reader.records(book)).map(canonicalText);
    const right = (await rebuilt.reader.records(book)).map(canonicalText);
    const length = Math.max(left.length, right.length);
    let at = 0;
    while (at < length && left[at] === right[at]) at += 1;
    comparisons.push(
      at === length
        ? { book: book.name, records: left.length, equal: true }
        : {
            book: book.name,
            records: left.length,
            equal: false,
            difference: { live: left[at] ?? null, rebuilt: right[at] ?? null },
          },
    );
  }
  return comparisons;
}
