import { describe, expect, it } from 'vitest';
import { sumsByMetal } from './desk-answer.ts';

const box = (metal: string, pieces: number, fineMicrograms: number) => ({
  metal,
  pieces,
  fineMicrograms,
});

describe('sums of the strong room', () => {
  it('add up each metal by itself', () => {
    const rows = [box('silver', 200, 4_005), box('gold', 100, 901), box('silver', 200, 4_006)];
    expect(sumsByMetal(rows)).toEqual([box('gold', 100, 901), box('silver', 400, 8_011)]);
  });

  it('are none where nothing lies', () => {
    expect(sumsByMetal([])).toEqual([]);
  });
});
