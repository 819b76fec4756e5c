import { describe, expect, it } from 'vitest';
import { RowIndex, StateIndex } from './state-index.ts';

describe('the index of states', () => {
  it('numbers keys in the order in which they come, as a map of them does', () => {
    const index = new StateIndex();
    const map = new Map<number, number>();
    let key = 1;
    for (let at = 0; at < 20_000; at += 1) {
      key = (key * 48_271) % 2_147_483_647;
      // Many come twice, and some are beyond 32 bits.
      const one = at % 2 ? (key % 5000) * 1_048_577 : (key % 5000) + 2 ** 45;
      if (!map.has(one)) map.set(one, map.size);
      expect(index.numberOf(one)).toBe(map.get(one));
    }
    expect(index.count).toBe(map.size);
  });

  it('tells rows apart that are too wide for a key', () => {
    const index = new RowIndex();
    expect(index.numberOf(Int32Array.of(1, 23))).toBe(0);
    expect(index.numberOf(Int32Array.of(12, 3))).toBe(1);
    expect(index.numberOf(Int32Array.of(1, 23))).toBe(0);
    expect(index.count).toBe(2);
  });
});
