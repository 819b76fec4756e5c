import { describe, expect, it } from 'vitest';
import { strandThickness, strip, stripPaths } from './line-shape.ts';

describe('strandThickness', () => {
  it('grows by the same step for each power of ten', () => {
    const kilogram = strandThickness(1e9);
    expect(strandThickness(1e10) - kilogram).toBeCloseTo(3, 9);
    expect(kilogram - strandThickness(1e8)).toBeCloseTo(3, 9);
  });

  it('draws nothing as a hairline, and ten tonnes inside the strip', () => {
    expect(strandThickness(0)).toBe(0.75);
    expect(strandThickness(10)).toBe(0.75);
    expect(strandThickness(1e13)).toBeLessThan(strip.middle + 3);
  });
});

describe('stripPaths', () => {
  it('runs over all stations without a gap', () => {
    const { gold, silver } = stripPaths([
      { gold: 1e9, silver: 0 },
      { gold: 0, silver: 1e10 },
    ]);
    expect(gold).toContain('200,');
    expect(silver).not.toContain('NaN');
  });
});
