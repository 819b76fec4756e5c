/** Whole numbers one after another, in a typed array that grows. */
export class GrowingWholes {
  #values = new Int32Array(256);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  push(value: number): void {
    if (this.#length === this.#values.length) {
      const larger = new Int32Array(2 * this.#length);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.#length] = value;
    this.#length += 1;
  }

  all(): Int32Array {
    return this.#values.slice(0, this.#length);
  }
}

/** Numbers by place, 0 where nothing was added yet, in a typed array that grows. */
export class GrowingSums {
  #values = new Float64Array(256);

  add(at: number, value: number): void {
    if (at >= this.#values.length) {
      const larger = new Float64Array(Math.max(at + 1, 2 * this.#values.length));
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[at] = (this.#values[at] as number) + value;
  }

  first(count: number): Float64Array {
    if (count <= this.#values.length) return this.#values.slice(0, count);
    const all = new Float64Array(count);
    all.set(this.#values);
    return all;
  }
}
