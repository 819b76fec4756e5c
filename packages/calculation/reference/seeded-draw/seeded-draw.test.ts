import { describe, expect, it } from 'vitest';
import { draw } from '../../src/sampling/draw.ts';
import { mixWord, seededIntegers, stepXoshiro } from '../../src/sampling/seeded-integers.ts';
import values from './values.json' with { type: 'json' };

describe('the generator behind the draw', () => {
  it('gives the published outputs of xoshiro256** from the state 1, 2, 3, 4', () => {
    const state: [bigint, bigint, bigint, bigint] = [1n, 2n, 3n, 4n];
    const outputs = Array.from({ length: 10 }, () => stepXoshiro(state));
    expect(outputs).toEqual([
      11520n,
      0n,
      1509978240n,
      1215971899390074240n,
      1216172134540287360n,
      607988272756665600n,
      16172922978634559625n,
      8476171486693032832n,
      10595114339597558777n,
      2904607092377533576n,
    ]);
  });

  it('mixes words as SplitMix64 does from the seed 0', () => {
    const gamma = 0x9e3779b97f4a7c15n;
    expect([1n, 2n, 3n, 4n].map((step) => mixWord(step * gamma))).toEqual([
      0xe220a8397b1dcdafn,
      0x6e789e6aa1b965f4n,
      0x06c45d188009454fn,
      0xf88bb8a8724c81ecn,
    ]);
  });

  it.each(Object.entries(values.words))('gives the fixed words of the seed %s', (seed, words) => {
    const stream = seededIntegers(seed);
    expect(words.map(() => String(stream.nextWord()))).toEqual(words);
  });
});

describe('the draw', () => {
  it.each(values.cases)('repeats the fixed draw of $input.sampleSizePieces pieces', (example) => {
    expect(draw(example.input)).toEqual(example.output);
  });
});
