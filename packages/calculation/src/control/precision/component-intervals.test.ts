import { describe, expect, it } from 'vitest';
import { centredReadings } from './centred-readings.ts';
import { modifiedLargeSampleInterval, satterthwaiteInterval } from './component-intervals.ts';

describe('intervals of components', () => {
  it('refuse a confidence of one and give none for what is not above 0', () => {
    const terms = [{ coefficient: 1, meanSquare: 2, degreesOfFreedom: 5 }];
    expect(() => modifiedLargeSampleInterval(terms, 1)).toThrow('confidence is 1');
    const negative = [...terms, { coefficient: -2, meanSquare: 2, degreesOfFreedom: 5 }];
    expect(satterthwaiteInterval(negative, 0.95)).toBe(null);
    expect(modifiedLargeSampleInterval(negative, 0.95).lower).toBe(0);
  });
});

describe('centred readings', () => {
  it('keep the tenths of readings with thirteen leading digits', () => {
    const found = centredReadings([[1000000000000.4], [1000000000000.3, 1000000000000.5]]);
    expect(found.scale).toBe(10);
    expect([...(found.groups[1] ?? [])]).toEqual([-1, 1]);
  });

  it('leave numbers that are no short decimals as they are', () => {
    const found = centredReadings([[1 / 3, 2 / 3]]);
    expect(found).toMatchObject({ scale: 1, origin: 1 / 3 });
    expect(found.groups[0]?.[1]).toBe(2 / 3 - 1 / 3);
    expect(centredReadings([[9e15, 0.1]]).scale).toBe(1);
  });
});
