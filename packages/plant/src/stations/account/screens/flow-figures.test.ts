import { describe, expect, it } from 'vitest';
import { flowFigures } from './flow-figures.ts';

describe('figures of a flow', () => {
  it.each([
    [400, 8_021_500_000, '400 pieces, 8.022 kg'],
    [1, 20_050_000, '1 piece, 20.05 g'],
    [0, 328_390_000, '328.39 g'],
    // What cupels kept of two samples: a trace, and no piece.
    [0, 4_000, '4.0 mg'],
  ])('of %i pieces and %i micrograms are %s', (pieces, grossMicrograms, words) => {
    expect(flowFigures({ pieces, grossMicrograms })).toBe(words);
  });
});
