import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  lengthReadingSchema,
  massReadingSchema,
  type Reading,
  readingGrams,
  readingMicrograms,
  readingMilligrams,
  readingMillimetres,
  readingSchema,
} from './reading.ts';

const reading = (text: string, unit: Reading['unit']): Reading => ({ text, unit, typed: false });

describe('a mass reading', () => {
  it.each<[string, Reading['unit'], number]>([
    ['622.3', 'g', 622_300_000],
    ['0.000001', 'g', 1],
    ['31.1034768', 'g', 31_103_476.8],
    ['31.103476', 'g', 31_103_476],
    ['31.10347600', 'g', 31_103_476],
    ['007.5', 'mg', 7500],
    ['+12', 'mg', 12_000],
    ['18.04', 'kg', 18_040_000_000],
    ['0.1', 'g', 100_000],
    ['9007199254.740991', 'g', Number.MAX_SAFE_INTEGER],
  ])('of %s %s is %d µg, exact from its digits or not accepted', (text, unit, micrograms) => {
    const accepted = massReadingSchema.safeParse(reading(text, unit)).success;
    expect(accepted).toBe(Number.isInteger(micrograms));
    if (accepted) expect(readingMicrograms(reading(text, unit))).toBe(micrograms);
    else expect(() => readingMicrograms(reading(text, unit))).toThrow(RangeError);
  });

  it.each<[string, string, object]>([
    ['text that is no number', 'text', { text: 'heavy' }],
    ['nothing', 'text', { text: '' }],
    ['a decimal comma', 'text', { text: '622,3' }],
    ['an exponent', 'text', { text: '6e2' }],
    ['a hexadecimal number', 'text', { text: '0x10' }],
    ['blanks around it', 'text', { text: ' 622.3' }],
    ['NaN', 'text', { text: 'NaN' }],
    ['zero', 'text', { text: '0.000' }],
    ['a negative mass', 'text', { text: '-1.2' }],
    ['more than 24 characters', 'text', { text: `1.${'0'.repeat(23)}` }],
    ['a number instead of its text', 'text', { text: 622.3 }],
    ['a length', 'unit', { unit: 'mm' }],
    ['an unknown unit', 'unit', { unit: 'oz' }],
    ['no word on who typed it', 'typed', { typed: undefined }],
    ['more than a whole microgram can hold', 'text', { text: '9007199254.740993' }],
  ])('with %s is not accepted, and the field %s is named', (_what, field, change) => {
    const parsed = massReadingSchema.safeParse({ ...reading('622.3', 'g'), ...change });
    expect(parsed.success).toBe(false);
    expect(parsed.error?.issues.map((issue) => issue.path.join('.'))).toContain(field);
  });

  it('of any whole number of micrograms is that number, in kg, g and mg', () => {
    const exponents = { kg: 9, g: 6, mg: 3 } as const;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 2 ** 50 }),
        fc.constantFrom('kg' as const, 'g' as const, 'mg' as const),
        (micrograms, unit) => {
          const digits = String(micrograms).padStart(exponents[unit] + 1, '0');
          const text = `${digits.slice(0, -exponents[unit])}.${digits.slice(-exponents[unit])}`;
          expect(massReadingSchema.safeParse(reading(text, unit)).success).toBe(true);
          expect(readingMicrograms(reading(text, unit))).toBe(micrograms);
        },
      ),
      { seed: 622, numRuns: 500 },
    );
  });

  it('is given in grams and milligrams as the nearest double', () => {
    expect(readingGrams(reading('31.1035', 'g'))).toBe(31.1035);
    expect(readingGrams(reading('18.04', 'kg'))).toBe(18_040);
    expect(readingMilligrams(reading('249.873', 'mg'))).toBe(249.873);
  });
});

describe('a length reading', () => {
  it('is taken in mm and µm, above zero', () => {
    expect(readingMillimetres(reading('22.05', 'mm'))).toBe(22.05);
    expect(readingMillimetres(reading('1850', 'µm'))).toBe(1.85);
    // Dividing 1003.3 by 1000 gives 1.0032999999999999, a double below the one that 1.0033 reads as.
    expect(readingMillimetres(reading('1003.3', 'µm'))).toBe(1.0033);
    expect(lengthReadingSchema.safeParse(reading('22.05', 'mm')).success).toBe(true);
    for (const bad of [reading('0', 'mm'), reading('-1', 'mm'), reading('22.05', 'g')]) {
      expect(lengthReadingSchema.safeParse(bad).success).toBe(false);
    }
    expect(() => readingMillimetres(reading('22.05', 'g'))).toThrow(RangeError);
  });
});

describe('any reading', () => {
  it('may name the line that it came in, unless a person typed it', () => {
    const received = 'a1'.repeat(32);
    const sent = { ...reading('622.3', 'g'), received };
    expect(readingSchema.parse(sent)).toEqual(sent);
    for (const change of [{ typed: true }, { received: 'a1' }, { received: undefined }]) {
      const parsed = readingSchema.safeParse({ ...sent, ...change });
      expect(parsed.error?.issues.map((issue) => issue.path.join('.'))).toEqual(['received']);
    }
  });

  it('keeps the text as it was sent', () => {
    const sent = reading('+0622.300', 'g');
    expect(readingSchema.parse(sent)).toEqual(sent);
  });
});
