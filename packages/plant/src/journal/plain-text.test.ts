import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { textOfPlain } from './plain-text.ts';

/** The example of RFC 8785, section 3.2.2 and 3.2.3. */
const example = {
  // biome-ignore lint/correctness/noPrecisionLoss: the digits of the RFC's own example
  numbers: [333333333.33333329, 1e30, 4.5, 2e-3, 0.000000000000000000000000001],
  string: '\u20ac$\u000F\u000aA\'\u0042\u0022\u005c\\"/',
  literals: [null, true, false],
};

describe('canonical text in one pass', () => {
  it('writes the example of RFC 8785 as the RFC does', () => {
    expect(textOfPlain(example)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  it('sorts names by their UTF-16 code units, as section 3.2.3 of the RFC does', () => {
    const names = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
      '10': 'Ten',
      '9': 'Nine',
    };
    const text = textOfPlain(names) as string;
    const values = [...text.matchAll(/:"([^"]*)"/g)].map(([, value]) => value);
    expect(values).toEqual([
      'Carriage Return',
      'One',
      'Ten',
      'Nine',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  it('gives the text of the other implementation for any JSON', () => {
    fc.assert(
      fc.property(fc.jsonValue({ stringUnit: 'binary', maxDepth: 3 }), (value) => {
        expect(textOfPlain(value)).toBe(canonicalize(value));
      }),
      { numRuns: 200 },
    );
  });

  it('leaves out what is undefined, as the other implementation does', () => {
    const value = { b: undefined, a: [{ c: 1, d: undefined }] };
    expect(textOfPlain(value)).toBe(canonicalize(value));
  });

  it('leaves to the careful way what is not plain', () => {
    const circle: unknown[] = [];
    circle.push(circle);
    const others = ['\ud800', { '\udc00': 1 }, Number.NaN, -Infinity, 1n, [undefined], circle];
    for (const other of [...others, new Date(0), Symbol('a'), { at: () => 1 }]) {
      expect(textOfPlain(other)).toBeUndefined();
    }
  });
});
