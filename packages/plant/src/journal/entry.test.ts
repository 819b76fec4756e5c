import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText, entryHash, isCanonical, parseEntry, sha256Hex } from './entry.ts';

// The values of RFC 8785 and FIPS 180-4 are written down from memory of the published texts.

describe('canonical text', () => {
  // RFC 8785 section 3.2.3: sorting of property names by UTF-16 code units.
  it('sorts the names of RFC 8785 section 3.2.3 as printed there', () => {
    const text =
      '{"\\u20ac":"Euro Sign","\\r":"Carriage Return","\\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\\ud83d\\ude00":"Emoji: Grinning Face","\\u0080":"Control","\\u00f6":"Latin Small Letter O With Diaeresis"}';
    const sorted = JSON.parse(
      `[${canonicalText(JSON.parse(text)).replace(/[{}]/g, '').replaceAll('":"', '","')}]`,
    );
    const values = sorted.filter((_: string, index: number) => index % 2 === 1);
    expect(values).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  // RFC 8785 section 3.2.2 (input) and section 3.2.4 (the expected bytes in hexadecimal digits).
  it('gives the bytes of RFC 8785 section 3.2.4', () => {
    const input = `{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
      "literals": [null, true, false]
    }`;
    const expected = `
      7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72
      75 65 2c 66 61 6c 73 65 5d 2c 22 6e 75 6d 62 65 72 73 22 3a
      5b 33 33 33 33 33 33 33 33 33 2e 33 33 33 33 33 33 33 2c 31
      65 2b 33 30 2c 34 2e 35 2c 30 2e 30 30 32 2c 31 65 2d 32 37
      5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30
      30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d`;
    const bytes = Buffer.from(canonicalText(JSON.parse(input)));
    expect(bytes.toString('hex')).toBe(expected.replace(/\s/g, ''));
  });

  // RFC 8785 appendix B: IEEE 754 bits and their JSON form.
  it.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ])('writes the double %s as %s', (bits, text) => {
    const value = Buffer.from(bits, 'hex').readDoubleBE();
    expect(canonicalText(value)).toBe(text);
  });

  it('refuses what JSON cannot hold: NaN, infinities, half of a surrogate pair', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, '\ud800', { deep: ['\udc00'] }]) {
      expect(() => canonicalText(value)).toThrow();
    }
  });

  it('is the same for the same content in any order of writing, and parses back to it', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalText(value as never);
        expect(canonicalText(JSON.parse(text))).toBe(text);
        expect(canonicalText(reversed(value) as never)).toBe(text);
        expect(isCanonical(text, JSON.parse(text))).toBe(true);
        const written = JSON.stringify(reversed(value));
        expect(isCanonical(written, JSON.parse(written))).toBe(written === text);
      }),
      { seed: 8785, numRuns: 300 },
    );
  });
});

describe('text held to its canonical form', () => {
  it.each<[string, boolean]>([
    ['{"a":1,"b":[{"c":null}]}', true],
    ['{"10":1,"9":2}', true],
    ['{"9":2,"10":1}', false],
    ['{"b":1,"a":2}', false],
    ['[{"b":1,"a":2}]', false],
    ['{"a":{"z":1,"y":1}}', false],
    ['{"a":1,"a":1}', false],
    ['{"a": 1}', false],
    ['{"a":1.0}', false],
    ['{"a":"\\u0041"}', false],
    ['{"a":"\\\\ud83d"}', true],
  ])('%s: %s', (text, canonical) => {
    expect(isCanonical(text, JSON.parse(text))).toBe(canonical);
  });

  it('is never one with half of a surrogate pair', () => {
    const text = '{"a":"\\ud83d"}';
    expect(() => isCanonical(text, JSON.parse(text))).toThrow();
  });
});

/** The same JSON value with the fields of every object written in reverse order. */
function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed);
  if (typeof value !== 'object' || value === null) return value;
  const fields = Object.entries(value).reverse();
  return Object.fromEntries(fields.map(([name, part]) => [name, reversed(part)]));
}

describe('hashes', () => {
  // FIPS 180-4 example "abc" (one block), as published by NIST with the standard.
  it('hashes the message abc as FIPS 180-4 does', () => {
    const expected = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    expect(sha256Hex('abc')).toBe(expected);
    expect(sha256Hex(Buffer.from('abc'))).toBe(expected);
    expect(entryHash('abc')).toBe(expected);
  });

  it('hashes text by its UTF-8 bytes', () => {
    expect(sha256Hex('µg ≥ 金')).toBe(sha256Hex(Buffer.from('µg ≥ 金', 'utf8')));
  });
});

describe('a recorded entry', () => {
  it('is frozen all the way down when it is read', () => {
    const entry = parseEntry({ text: '{"body":{"drums":[{"drum":"D-1"}]},"number":1}', hash: 'h' });
    const body = entry.body as { drums: { drum: string }[] };
    expect(entry.hash).toBe('h');
    expect(() => body.drums.push({ drum: 'D-2' })).toThrow(TypeError);
    expect(() => Object.assign(body.drums[0] as object, { drum: 'D-2' })).toThrow(TypeError);
  });
});
