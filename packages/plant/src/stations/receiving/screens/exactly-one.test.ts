import { describe, expect, it } from 'vitest';
import { exactlyOne } from './exactly-one.ts';

const drums = ['D-1', 'D-10', 'D-2'].map((id) => ({ id }));

describe('the one drum that a text names', () => {
  it('is found by its whole id', () => {
    expect(exactlyOne(drums, 'D-2')).toEqual({ id: 'D-2' });
    expect(exactlyOne(drums, 'D-10')).toEqual({ id: 'D-10' });
  });

  it('is not found by a part of it, nor while another id begins the same way', () => {
    expect(exactlyOne(drums, 'D-')).toBeUndefined();
    expect(exactlyOne(drums, 'D-1')).toBeUndefined();
    expect(exactlyOne(drums, '')).toBeUndefined();
    expect(exactlyOne(drums, 'E-1')).toBeUndefined();
  });
});
