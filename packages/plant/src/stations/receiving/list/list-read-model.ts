import type { BookReader, BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { listMappings, packingListColumns, takenLists } from '../books.ts';
import { mappingOfPlainList } from '../packing-list.ts';
import type { ListMapping, ListMappingConfirmedBody, PackingListTakenBody } from './list-bodies.ts';

export async function applyListMapping(
  books: BookWriter,
  entry: RecordedEntry<ListMappingConfirmedBody>,
): Promise<void> {
  await books.put(listMappings, { ...entry.body, entry: entry.number });
}

export async function applyTakenList(
  books: BookWriter,
  entry: RecordedEntry<PackingListTakenBody>,
): Promise<void> {
  const { sha256 } = entry.body.file;
  await books.put(takenLists, { ...entry.body, sha256, entry: entry.number });
}

/** How a supplier's lists are read: as confirmed, else by the columns that were kept before there were mappings. */
export async function mappingOf(
  books: BookReader,
  supplier: string,
): Promise<ListMapping | undefined> {
  const confirmed = await books.get(listMappings, supplier);
  if (confirmed) return confirmed.mapping;
  const kept = await books.get(packingListColumns, supplier);
  return kept && mappingOfPlainList(kept);
}

/** The mapping of every supplier that has one. */
export async function mappingsOfSuppliers(
  books: BookReader,
): Promise<readonly { readonly supplier: string; readonly mapping: ListMapping }[]> {
  const suppliers = new Set([
    ...(await books.select(packingListColumns)).map(({ supplier }) => supplier),
    ...(await books.select(listMappings)).map(({ supplier }) => supplier),
  ]);
  const rows = [];
  for (const supplier of [...suppliers].sort()) {
    const mapping = await mappingOf(books, supplier);
    if (mapping) rows.push({ supplier, mapping });
  }
  return rows;
}
