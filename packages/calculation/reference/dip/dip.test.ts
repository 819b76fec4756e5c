import { describe, expect, it } from 'vitest';
import { dip } from '../../src/weights/dip.ts';
import { uniformDips } from '../../src/weights/uniform-dips.ts';
import values from './values.json' with { type: 'json' };

const runs = 4000;

/** Share of simulated uniform samples that dip more. */
function tail(count: number, limit: number): number {
  const dips = uniformDips(count, runs, 1985);
  return dips.filter((value) => value > limit).length / runs;
}

describe('the dip', () => {
  it.each(values.examples)('of $title', ({ values: sample, printed }) => {
    const places = printed.split('.')[1]?.length ?? 0;
    const found = dip(sample).dip;
    expect(Math.abs(found - Number(printed))).toBeLessThanOrEqual(0.5 * 10 ** -places + 1e-12);
    expect(dip(sample.map((value) => -value)).dip).toBeCloseTo(found, 12);
  });
});

describe('simulated dips of uniform samples', () => {
  it.each(values.quantiles)(
    'exceed the tabulated dip of $n values as often as they should, $probability',
    ({ n, probability, dip: limit }) => {
      const expected = 1 - probability;
      const standardError = Math.sqrt((expected * probability) / runs);
      expect(Math.abs(tail(n, limit) - expected)).toBeLessThan(4 * standardError);
    },
  );

  it('give the dip of the article about the tail probability that it states', () => {
    const { n, dip: limit, tail: stated } = values.article;
    // "About 10 %" of a dip printed to three places: half a unit moves the tail by nearly two per cent.
    expect(Math.abs(tail(n, limit) - stated)).toBeLessThan(0.035);
  });
});
