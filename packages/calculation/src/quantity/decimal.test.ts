import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareDecimals,
  decimalOfNumber,
  decimalOfText,
  largestDecimal,
  multiplyDecimals,
  numberOfDecimal,
  shortTextOfDecimal,
  smallestDecimal,
  subtractDecimals,
  sumDecimals,
  textOfDecimal,
} from './decimal.ts';
import { DomainError } from './domain.ts';

describe('decimals', () => {
  it('read a double as the shortest text that stands for it', () => {
    expect(decimalOfNumber(916.9)).toEqual({ coefficient: 9169n, places: 1 });
    expect(decimalOfNumber(-2e-7)).toEqual({ coefficient: -2n, places: 7 });
    expect(decimalOfNumber(1.5e22)).toEqual({ coefficient: 15n * 10n ** 21n, places: 0 });
  });

  it('find 0.1 + 0.2 equal to 0.3', () => {
    const sum = sumDecimals([decimalOfNumber(0.1), decimalOfNumber(0.2)]);
    expect(compareDecimals(sum, decimalOfNumber(0.3))).toBe(0);
  });

  it('multiply and subtract exactly', () => {
    const product = multiplyDecimals([decimalOfText('0.83'), decimalOfText('-0.30')]);
    expect(textOfDecimal(product)).toBe('-0.2490');
    expect(shortTextOfDecimal(product)).toBe('-0.249');
    expect(textOfDecimal(subtractDecimals(decimalOfText('1'), decimalOfText('0.001')))).toBe(
      '0.999',
    );
  });

  it('write whole numbers and zero without a point', () => {
    expect(shortTextOfDecimal(decimalOfText('100.00'))).toBe('100');
    expect(shortTextOfDecimal(decimalOfText('1200'))).toBe('1200');
    expect(shortTextOfDecimal(decimalOfText('0.0'))).toBe('0');
  });

  it('find the largest and the smallest', () => {
    const [a, b, c] = [decimalOfText('1.10'), decimalOfText('-2'), decimalOfText('1.09')];
    expect(largestDecimal([a, b, c])).toBe(a);
    expect(smallestDecimal([a, b, c])).toBe(b);
  });

  it('read back the double they were made from', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(numberOfDecimal(decimalOfNumber(value))).toBe(value === 0 ? 0 : value);
      }),
      { seed: 5, numRuns: 500 },
    );
  });

  it('refuse numbers that are not finite and name the field', () => {
    expect(() => decimalOfNumber(Number.NaN, 'grossGrams')).toThrow('grossGrams is NaN');
    expect(() => decimalOfText('12 g', 'grossGrams')).toThrow(DomainError);
  });
});
