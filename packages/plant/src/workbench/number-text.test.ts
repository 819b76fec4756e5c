import { describe, expect, it } from 'vitest';
import {
  decimalOf,
  inWords,
  printAge,
  printAgo,
  printDecimal,
  printMicrograms,
  printNumber,
  typedDecimal,
} from './number-text.ts';

describe('printed figures', () => {
  it('spaces thousands from five digits on and keeps four digits together', () => {
    expect(printDecimal('12345.678')).toBe('12\u202f345.678');
    expect(printDecimal('1234')).toBe('1234');
    expect(printNumber(35_000_000)).toBe('35\u202f000\u202f000');
  });

  it('prints a true minus, and none before a zero', () => {
    expect(printNumber(-2.5, 2)).toBe('\u22122.50');
    expect(printNumber(-0.001, 2)).toBe('0.00');
    expect(printMicrograms(-4n, 'g', 3)).toBe('0.000');
  });

  it('prints micrograms exactly beyond the doubles and rounds half to even', () => {
    expect(printMicrograms(9_007_199_254_740_993n, 'g', 6)).toBe(
      '9\u202f007\u202f199\u202f254.740993',
    );
    expect(printMicrograms(500, 'mg', 0)).toBe('0');
    expect(printMicrograms(1500, 'mg', 0)).toBe('2');
    expect(printMicrograms(-31_103_476, 'g', 3)).toBe('\u221231.103');
  });

  it('prints what has no value as a dash and small numbers with a power of ten', () => {
    expect(printNumber(Number.NaN)).toBe('–');
    expect(printNumber(0.0000123)).toBe('1.23 × 10⁻⁵');
    expect(printNumber(916.949999)).toBe('916.95');
  });
});

describe('typed figures', () => {
  it('reads a decimal comma, thin spaces and a true minus', () => {
    expect(typedDecimal(' 12\u202f622,30 ')).toBe('12622.30');
    expect(typedDecimal('−4,5')).toBe('-4.5');
  });

  it('reads a power of ten for a calculation, and none in a reading', () => {
    expect(decimalOf('5.8e-7')).toBe(5.8e-7);
    expect(decimalOf('1,5E3')).toBe(1500);
    expect(decimalOf('−2e2')).toBe(-200);
    expect(decimalOf('e3')).toBe('e3');
    expect(typedDecimal('5.8e-7')).toBeUndefined();
  });

  it('reads nothing from text that is no decimal number', () => {
    for (const text of ['', '1.2.3', '1e5', 'NaN', '12 g', '.5']) {
      expect(typedDecimal(text)).toBeUndefined();
    }
  });
});

describe('words', () => {
  it('turns names of code into words', () => {
    expect(inWords('DrumWeighed')).toBe('Drum weighed');
    expect(inWords('press-room')).toBe('Press room');
    expect(inWords('put-up')).toBe('Put-up');
  });

  it('says how long ago something was', () => {
    const now = Date.parse('2026-03-02T12:00:00Z');
    expect(printAge('2026-03-02T11:59:40Z', now)).toBe('just now');
    expect(printAge('2026-03-02T11:15:00Z', now)).toBe('45 min');
    expect(printAgo('2026-03-02T11:15:00Z', now)).toBe('45 min ago');
    expect(printAgo('2026-03-02T11:59:40Z', now)).toBe('just now');
    expect(printAge('2026-03-01T00:00:00Z', now)).toBe('36 h');
    expect(printAge('2026-02-20T12:00:00Z', now)).toBe('10 days');
  });
});
