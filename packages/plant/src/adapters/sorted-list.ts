/** So many items stand in one chunk at the most. */
const mostInChunk = 256;

/** Items side by side; only the list that owns the chunk may change it. */
interface Chunk<Item> {
  readonly owner: object;
  readonly items: Item[];
}

/** A place in the list: before the item at that chunk and index. */
interface Place {
  readonly chunk: number;
  readonly index: number;
}

/** Tells whether an item stands before the place that is sought; once false, false for all behind it. */
export type IsBefore<Item> = (item: Item) => boolean;

/** The first of so many for which the answer is no. */
function firstNot(count: number, isBefore: (at: number) => boolean): number {
  let [low, high] = [0, count];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (isBefore(middle)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Items in an order that the caller keeps. A copy takes no time: both lists share their chunks, and
 * each makes a chunk its own before it changes it.
 */
export class SortedList<Item> {
  #chunks: Chunk<Item>[] = [];
  #owner: object = {};
  /** False while another list shares the row of chunks. */
  #isOwnRow = true;

  /** A list of items that are in order already. */
  static of<Item>(items: readonly Item[]): SortedList<Item> {
    const list = new SortedList<Item>();
    const half = mostInChunk / 2;
    for (let from = 0; from < items.length; from += half) {
      list.#chunks.push({ owner: list.#owner, items: items.slice(from, from + half) });
    }
    return list;
  }

  copy(): SortedList<Item> {
    const copy = new SortedList<Item>();
    copy.#chunks = this.#chunks;
    copy.#isOwnRow = false;
    this.#isOwnRow = false;
    // Neither owns the chunks that both have from now on.
    this.#owner = {};
    return copy;
  }

  /** The first item that does not stand before the place. */
  firstFrom(isBefore: IsBefore<Item>): Item | undefined {
    const { chunk, index } = this.#seek(isBefore);
    return this.#chunks[chunk]?.items[index];
  }

  /** Items from the one place up to the other, at most so many, from that end on. */
  between(
    range: { from: IsBefore<Item>; to: IsBefore<Item> },
    options: { limit: number; isBackwards: boolean },
  ): Item[] {
    const start = this.#seek(range.from);
    const end = this.#seek(range.to);
    return options.isBackwards
      ? this.#backwards(start, end, options.limit)
      : this.#forwards(start, end, options.limit);
  }

  /** All items in their order. */
  *[Symbol.iterator](): Iterator<Item> {
    for (const { items } of this.#chunks) yield* items;
  }

  /** Puts an item at the place, instead of the one that is there or before it. */
  put(item: Item, at: { isBefore: IsBefore<Item>; isSame: (found: Item) => boolean }): void {
    const { chunk, index } = this.#seek(at.isBefore);
    const found = this.#chunks[chunk]?.items[index];
    if (found !== undefined && at.isSame(found)) this.#own(chunk).items[index] = item;
    else this.#insert(item, { chunk, index });
  }

  /** Takes the item at the place out of the list. */
  remove(isBefore: IsBefore<Item>): void {
    const { chunk, index } = this.#seek(isBefore);
    const { items } = this.#own(chunk);
    items.splice(index, 1);
    if (items.length === 0) this.#chunks.splice(chunk, 1);
  }

  #seek(isBefore: IsBefore<Item>): Place {
    const chunks = this.#chunks;
    const isChunkBefore = (at: number) => isBefore(chunks[at]?.items.at(-1) as Item);
    const chunk = firstNot(chunks.length, isChunkBefore);
    const items = chunks[chunk]?.items ?? [];
    return { chunk, index: firstNot(items.length, (at) => isBefore(items[at] as Item)) };
  }

  #forwards(start: Place, end: Place, limit: number): Item[] {
    const found: Item[] = [];
    for (let chunk = start.chunk; chunk <= end.chunk && found.length < limit; chunk += 1) {
      const items = this.#chunks[chunk]?.items ?? [];
      const from = chunk === start.chunk ? start.index : 0;
      const to = Math.min(
        chunk === end.chunk ? end.index : items.length,
        from + limit - found.length,
      );
      for (let index = from; index < to; index += 1) found.push(items[index] as Item);
    }
    return found;
  }

  #backwards(start: Place, end: Place, limit: number): Item[] {
    const found: Item[] = [];
    for (let chunk = end.chunk; chunk >= start.chunk && found.length < limit; chunk -= 1) {
      const items = this.#chunks[chunk]?.items ?? [];
      const to = chunk === end.chunk ? end.index : items.length;
      const from = Math.max(chunk === start.chunk ? start.index : 0, to - (limit - found.length));
      for (let index = to - 1; index >= from; index -= 1) found.push(items[index] as Item);
    }
    return found;
  }

  #insert(item: Item, { chunk, index }: Place): void {
    this.#ownRow();
    const last = this.#chunks.length - 1;
    if (chunk <= last) {
      const { items } = this.#own(chunk);
      items.splice(index, 0, item);
      if (items.length > mostInChunk) this.#split(chunk);
      return;
    }
    // Behind everything: what comes in order fills its chunks.
    if (last >= 0 && (this.#chunks[last]?.items.length ?? 0) < mostInChunk) {
      this.#own(last).items.push(item);
    } else this.#chunks.push({ owner: this.#owner, items: [item] });
  }

  #split(chunk: number): void {
    const { items } = this.#own(chunk);
    const right = items.splice(items.length >>> 1);
    this.#chunks.splice(chunk + 1, 0, { owner: this.#owner, items: right });
  }

  #ownRow(): void {
    if (this.#isOwnRow) return;
    this.#chunks = this.#chunks.slice();
    this.#isOwnRow = true;
  }

  #own(chunk: number): Chunk<Item> {
    this.#ownRow();
    const found = this.#chunks[chunk] as Chunk<Item>;
    if (found.owner === this.#owner) return found;
    const own = { owner: this.#owner, items: found.items.slice() };
    this.#chunks[chunk] = own;
    return own;
  }
}
