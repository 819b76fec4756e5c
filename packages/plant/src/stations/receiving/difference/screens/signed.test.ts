import { describe, expect, it } from 'vitest';
import { gramsText, microgramsOf, piecesOf, plus } from './signed.ts';

describe('figures of a settlement', () => {
  it('are exact in micrograms, with either sign and either decimal mark', () => {
    expect(microgramsOf('-10')).toBe(-10_000_000);
    expect(microgramsOf('−0,000001')).toBe(-1);
    expect(microgramsOf('+31.1034768')).toBe('+31.1034768');
    expect(microgramsOf('31.103477')).toBe(31_103_477);
    expect(microgramsOf('-0')).toBe(0);
    expect(microgramsOf('ten')).toBe('ten');
  });

  it('are whole pieces', () => {
    expect(piecesOf('−2')).toBe(-2);
    expect(piecesOf('1.5')).toBe('1.5');
  });

  it('stand in their fields as they are read back', () => {
    for (const micrograms of [0, 1, -1, -61_300_000, 2_000_200_000]) {
      expect(microgramsOf(gramsText(micrograms))).toBe(micrograms);
    }
    expect(gramsText(-61_300_000)).toBe('-61.3');
    expect(plus(2, 0)).toBe('+2');
    expect(plus(0, 1)).toMatch(/^0.0$/);
  });
});
