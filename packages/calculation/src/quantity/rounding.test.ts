import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from './domain.ts';
import {
  divideRounded,
  type RoundingRule,
  roundDecimalText,
  roundingRules,
  roundNumberText,
} from './rounding.ts';

describe('divideRounded', () => {
  // IEEE 754-2019, 4.3: the results of the four directions for -2.5 to 2.5 follow from their
  // definitions.
  const halves: [RoundingRule, bigint[]][] = [
    ['half-even', [-2n, -2n, 0n, 0n, 2n, 2n]],
    ['half-up', [-2n, -1n, 0n, 1n, 2n, 3n]],
    ['down', [-3n, -2n, -1n, 0n, 1n, 2n]],
    ['up', [-2n, -1n, 0n, 1n, 2n, 3n]],
  ];
  for (const [rule, expected] of halves) {
    it(`sends -2.5, -1.5, -0.5, 0.5, 1.5 and 2.5 where ${rule} says`, () => {
      expect([-5n, -3n, -1n, 1n, 3n, 5n].map((x) => divideRounded(x, 2n, rule))).toEqual(expected);
    });
  }

  it('leaves whole quotients alone under every rule', () => {
    for (const rule of roundingRules) expect(divideRounded(-12n, 4n, rule)).toBe(-3n);
  });

  it('stays exact far beyond what a double can hold', () => {
    expect(divideRounded(10n ** 40n + 1n, 10n ** 20n, 'up')).toBe(10n ** 20n + 1n);
    expect(divideRounded(10n ** 40n + 1n, 10n ** 20n, 'half-even')).toBe(10n ** 20n);
  });

  it('is never farther from the quotient than its rule allows', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 30n), max: 10n ** 30n }),
        fc.bigInt({ min: 1n, max: 10n ** 15n }),
        (dividend, divisor) => {
          const down = divideRounded(dividend, divisor, 'down');
          const up = divideRounded(dividend, divisor, 'up');
          expect(down * divisor <= dividend && (down + 1n) * divisor > dividend).toBe(true);
          expect(up * divisor >= dividend && (up - 1n) * divisor < dividend).toBe(true);
          for (const rule of ['half-even', 'half-up'] as const) {
            const error = divideRounded(dividend, divisor, rule) * divisor - dividend;
            expect(2n * (error < 0n ? -error : error) <= divisor).toBe(true);
          }
        },
      ),
      { seed: 11, numRuns: 500 },
    );
  });

  it('refuses a divisor of 0 and an unknown rule', () => {
    expect(() => divideRounded(1n, 0n, 'down')).toThrow(DomainError);
    expect(() => divideRounded(1n, 2n, 'nearest' as RoundingRule)).toThrow(
      'rule is nearest; accepted: half-even, half-up, down, up',
    );
  });
});

describe('roundDecimalText', () => {
  it('rounds the midway text 399.8905 to the even digit or up', () => {
    expect(roundDecimalText('399.8905', 3, 'half-even')).toBe('399.890');
    expect(roundDecimalText('399.8905', 3, 'half-up')).toBe('399.891');
  });

  it('reads 1.005 as written, where the nearest double lies below it', () => {
    expect(roundDecimalText('1.005', 2, 'half-up')).toBe('1.01');
  });

  it('prints a number as it was typed and refuses one that is not finite', () => {
    expect(roundNumberText(916.9498, 2, 'half-even')).toBe('916.95');
    expect(roundNumberText(1.005, 2, 'half-up')).toBe('1.01');
    expect(() => roundNumberText(Number.NaN, 2, 'down')).toThrow(DomainError);
  });

  it('adds places where the text has fewer', () => {
    expect(roundDecimalText('-7', 2, 'down')).toBe('-7.00');
  });

  it('refuses text that is not a plain decimal', () => {
    for (const text of ['', '1,5', '+1', '1e3', ' 1', '1.', '.5', 'NaN']) {
      expect(() => roundDecimalText(text, 2, 'down'), text).toThrow(DomainError);
    }
  });

  it('refuses a number of places that is not whole', () => {
    expect(() => roundDecimalText('1', 1.5, 'down')).toThrow(DomainError);
  });
});
