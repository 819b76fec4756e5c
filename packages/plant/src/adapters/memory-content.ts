import type { StoredHead, StoredLine, StoreReader, Table } from '../ports/store.ts';
import type { MemoryTable } from './memory-table.ts';
import type { SortedList } from './sorted-list.ts';

/** What a store of memory holds, or would hold if the write under way were done. */
export interface Content {
  /** How many lines there are. */
  readonly lineCount: number;
  line(number: number): StoredLine | undefined;
  readonly heads: SortedList<StoredHead>;
  table(name: string): MemoryTable;
}

/** Reads the content that `current` answers at the moment of the call. */
export function readerOf(current: () => Content): StoreReader {
  return {
    lastLine: async () => current().line(current().lineCount),
    line: async (number) => current().line(number),
    lines: async (first, below) => {
      const content = current();
      const found: StoredLine[] = [];
      const end = Math.min(below, content.lineCount + 1);
      for (let number = Math.max(1, first); number < end; number += 1) {
        found.push(content.line(number) as StoredLine);
      }
      return found;
    },
    record: async (table, key) => current().table(table.name).record(key),
    records: async (table: Table, selection = {}) =>
      current().table(table.name).select(table, selection),
    headCovering: async (treeSize) => current().heads.firstFrom((head) => head.treeSize < treeSize),
    heads: async () => [...current().heads],
  };
}
