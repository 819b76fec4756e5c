import { describe, expect, it } from 'vitest';
import { badWeighingProbability, gramRatio, weighingRatio } from './container-evidence.ts';
import { faultRate } from './fault-rates.ts';
import { afterVainLook, meanWeighingsByHalves, searchOrder } from './looking.ts';

const place = (name: string, probability: number, seenIfThere: number, minutes: number) => ({
  name,
  probability,
  seenIfThere,
  minutes,
});

function orders<Item>(items: readonly Item[]): Item[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((first, at) =>
    orders([...items.slice(0, at), ...items.slice(at + 1)]).map((rest) => [first, ...rest]),
  );
}

describe('searchOrder', () => {
  const places = [
    place('bench', 0.3, 0.8, 20),
    place('rejects', 0.25, 0.99, 3),
    place('laboratory', 0.2, 0.95, 15),
    place('log', 0.15, 0.9, 5),
    place('floor', 0.1, 0.6, 30),
  ];

  it('takes no more minutes than any other order', () => {
    const best = searchOrder({ places, looks: 0 });
    const all = orders(places).map(
      (order) => searchOrder({ places: order, looks: 0 }).expectedMinutesAsListed,
    );
    expect(all).toHaveLength(120);
    expect(best.expectedMinutes).toBeCloseTo(Math.min(...all), 12);
  });

  it('refuses probabilities that sum to more than 1', () => {
    const two = [place('a', 0.7, 1, 1), place('b', 0.4, 1, 1)];
    expect(() => searchOrder({ places: two, looks: 0 })).toThrow(/places.*at most 1/s);
  });

  it('keeps the sum of the probabilities after a look in vain, and refuses what leaves nothing', () => {
    const after = afterVainLook([0.5, 0.3], { at: 0, seenIfThere: 0.9 });
    expect(after[0] ?? 0).toBeCloseTo((0.05 / 0.35) * 0.8, 12);
    expect((after[0] ?? 0) + (after[1] ?? 0)).toBeCloseTo(0.8, 12);
    expect(() => afterVainLook([1, 0], { at: 0, seenIfThere: 1 })).toThrow(/possible/);
    expect(() => afterVainLook([1], { at: 1, seenIfThere: 0.5 })).toThrow(/at/);
  });

  it('needs as many weighings by halves as the depth of the tree', () => {
    expect([1, 2, 3, 4, 8].map(meanWeighingsByHalves)).toEqual([0, 1, 1 + 2 / 3, 2, 3]);
    expect(() => meanWeighingsByHalves(0)).toThrow(/containers/);
  });
});

describe('the evidence of a weighing', () => {
  const bad = { probability: 1e-3, spreadGrams: 20 };
  const reading = { deviationGrams: -31, predictedGrams: 0, standardUncertaintyGrams: 0.5 };

  it('is bounded by the chance that the weighing is worthless', () => {
    const ratio = weighingRatio(reading, { pieces: -1, pieceMassGrams: 31.1 }, bad);
    expect(ratio).toBeGreaterThan(1e3);
    expect(ratio).toBeLessThan(1e6);
  });

  it('calls a reading half a piece off worthless, whatever the count', () => {
    const half = { ...reading, deviationGrams: -15.5 };
    for (const pieces of [0, -1]) {
      expect(badWeighingProbability(half, { pieces, pieceMassGrams: 31.1 }, bad)).toBeGreaterThan(
        0.999,
      );
    }
  });

  it('refuses what would make one reading outweigh everything', () => {
    const change = { pieces: -1, pieceMassGrams: 31.1 };
    expect(() => weighingRatio(reading, change, { ...bad, probability: 0 })).toThrow(/probability/);
    expect(() => weighingRatio(reading, change, { ...bad, spreadGrams: 0 })).toThrow(/spread/);
    const exact = { missingGrams: 1, standardUncertaintyGrams: 0 };
    expect(() => gramRatio(exact, 31.1)).toThrow(/standardUncertaintyGrams/);
  });
});

describe('faultRate', () => {
  it('starts at what was assumed and comes near to what is seen', () => {
    expect(faultRate({ assumedRate: 0.003, opportunities: 0, confirmed: 0 })).toBeCloseTo(
      0.003,
      15,
    );
    const seen = faultRate({ assumedRate: 0.003, opportunities: 1_000_000, confirmed: 500 });
    expect(seen).toBeCloseTo(0.0005, 5);
  });

  it('refuses an impossible rate and more causes than opportunities', () => {
    expect(() => faultRate({ assumedRate: 0, opportunities: 1, confirmed: 0 })).toThrow(
      /assumedRate/,
    );
    expect(() => faultRate({ assumedRate: 0.1, opportunities: 1.5, confirmed: 0 })).toThrow(
      /opportunities/,
    );
    expect(() => faultRate({ assumedRate: 0.1, opportunities: 1, confirmed: 2 })).toThrow(
      /confirmed/,
    );
  });
});
