/** Finds the number of a state by its key, or gives it the next one: an open table of keys in typed arrays. */
export class StateIndex {
  #keys = new Float64Array(1024);
  #numbers = new Int32Array(1024).fill(-1);
  #mask = 1023;
  #count = 0;

  get count(): number {
    return this.#count;
  }

  /** The number of a key, a whole number from 0 below 2^53. */
  numberOf(key: number): number {
    let at = this.#placeOf(key);
    const found = this.#numbers[at] as number;
    if (found >= 0) return found;
    if (this.#count * 2 > this.#mask) {
      this.#grow();
      at = this.#placeOf(key);
    }
    this.#keys[at] = key;
    this.#numbers[at] = this.#count;
    this.#count += 1;
    return this.#count - 1;
  }

  #placeOf(key: number): number {
    // Upper and lower half of the key, each spread by an odd multiplier.
    const low = Math.imul(key | 0, 0x9e3779b1);
    const high = Math.imul((key / 4294967296) | 0, 0x85ebca77);
    let at = (low ^ high ^ (low >>> 15)) & this.#mask;
    while ((this.#numbers[at] as number) >= 0 && this.#keys[at] !== key) at = (at + 1) & this.#mask;
    return at;
  }

  #grow(): void {
    const keys = this.#keys;
    const numbers = this.#numbers;
    this.#mask = 2 * this.#mask + 1;
    this.#keys = new Float64Array(this.#mask + 1);
    this.#numbers = new Int32Array(this.#mask + 1).fill(-1);
    for (let at = 0; at < numbers.length; at += 1) {
      const number = numbers[at] as number;
      if (number < 0) continue;
      const place = this.#placeOf(keys[at] as number);
      this.#keys[place] = keys[at] as number;
      this.#numbers[place] = number;
    }
  }
}

/** The same for rows too wide for one key, by text. */
export class RowIndex {
  readonly #numbers = new Map<string, number>();

  get count(): number {
    return this.#numbers.size;
  }

  numberOf(row: Int32Array): number {
    const key = row.join(' ');
    const found = this.#numbers.get(key);
    if (found !== undefined) return found;
    this.#numbers.set(key, this.#numbers.size);
    return this.#numbers.size - 1;
  }
}
