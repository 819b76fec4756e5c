import { describe, expect, it } from 'vitest';
import { builtInFormat, meaningOf, shownDigits } from './number-format.ts';

describe('what a number format shows', () => {
  // By the grammar of ECMA-376, part 1, 18.8.31, read by hand.
  it.each([
    ['General', 'as held'],
    ['@', 'as held'],
    ['General" mg"', 'as held'],
    ['0', { least: 0, most: 0 }],
    ['0.000', { least: 3, most: 3 }],
    ['#,##0.00', { least: 2, most: 2 }],
    ['# ##0.0', { least: 1, most: 1 }],
    ['0.0##', { least: 1, most: 3 }],
    ['0.###', { least: 0, most: 3 }],
    ['.00', { least: 2, most: 2 }],
    ['0.00_);(0.00)', { least: 2, most: 2 }],
    ['[Red]0.0', { least: 1, most: 1 }],
    ['[$-407]0.00', { least: 2, most: 2 }],
    ['0.000" mg; net"', { least: 3, most: 3 }],
    ['"Fe "0.00\\ \\m\\g', { least: 2, most: 2 }],
    ['0.00;[Red]-0.00', { least: 2, most: 2 }],
    ['0%', 'other'],
    ['0.00E+00', 'other'],
    ['# ?/?', 'other'],
    ['0.0,', 'other'],
    ['[<1]0.0000;0.0', 'other'],
    ['yyyy-mm-dd', 'other'],
    ['"text only"0', { least: 0, most: 0 }],
  ] as const)('%s', (code, meaning) => {
    expect(meaningOf(code)).toEqual(meaning);
  });

  it.each([
    [0, 'General'],
    [2, '0.00'],
    [4, '#,##0.00'],
    [10, '0.00%'],
    [49, '@'],
    [41, 'General'],
  ])('built in as number %i is %s', (id, code) => {
    expect(builtInFormat(id)).toBe(code);
  });

  it.each([
    ['12.34', 3, 3, '12.340'],
    ['12', 2, 2, '12.00'],
    ['12', 0, 0, '12'],
    ['12.5', 1, 3, '12.5'],
    ['12.5', 0, 3, '12.5'],
    ['12.3456', 2, 2, '12.35'],
    ['-0.5', 2, 2, '-0.50'],
  ])('of %s with %i to %i decimals is %s', (held, least, most, shown) => {
    expect(shownDigits(held, { least, most })).toBe(shown);
  });
});
