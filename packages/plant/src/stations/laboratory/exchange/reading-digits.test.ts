import { describe, expect, it } from 'vitest';
import { readingMicrograms } from '../../../journal/reading.ts';
import { milligramDigits } from './reading-digits.ts';

describe('milligramDigits', () => {
  it.each([
    ['250.000', 'mg', '250.000'],
    ['0.25000', 'g', '250.00'],
    ['0.00025', 'kg', '250'],
    ['8', 'g', '8000'],
    ['0.0001', 'g', '0.1'],
    ['12.3456', 'g', '12345.6'],
  ] as const)('moves the point of %s %s and keeps its digits: %s', (text, unit, digits) => {
    const reading = { text, unit, typed: false };
    expect(milligramDigits(reading)).toEqual({ digits });
    expect(Number(digits) * 1000).toBeCloseTo(readingMicrograms(reading), 6);
  });

  it('refuses a length', () => {
    expect(() => milligramDigits({ text: '1', unit: 'mm', typed: false })).toThrow(RangeError);
  });
});
