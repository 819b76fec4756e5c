import { describe, expect, it } from 'vitest';
import { probabilityText } from './probability-text.ts';

describe('a probability in words', () => {
  it('has two digits down to one in ten thousand', () => {
    expect(probabilityText(0.5)).toBe('0.5');
    expect(probabilityText(1e-4)).toBe('0.0001');
    expect(probabilityText(9.99e-5)).toBe('below 0.0001');
  });
});
