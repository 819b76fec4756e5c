import chisquare from '@stdlib/stats-base-dists-chisquare';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocateSample } from '../src/sampling/allocation.ts';
import { draw } from '../src/sampling/draw.ts';
import { seededIntegers } from '../src/sampling/seeded-integers.ts';

const seed = 256;

/** Hexadecimal seed number k of a series: the digits of a hash are as good as counted up. */
function seedOf(index: number): string {
  return index.toString(16).padStart(64, '0');
}

/** Upper tail of chi-square for counts that should be equal to the expected ones. */
function chiSquareProbability(counts: readonly number[], expected: readonly number[]): number {
  const statistic = counts.reduce(
    (sum, count, index) => sum + (count - (expected[index] ?? 0)) ** 2 / (expected[index] ?? 0),
    0,
  );
  return 1 - chisquare.cdf(statistic, counts.length - 1);
}

const lots = fc
  .array(
    fc.record({
      pieces: fc.integer({ min: 1, max: 3000 }),
      trayPieces: fc.option(fc.integer({ min: 1, max: 60 }), { nil: undefined }),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .chain((containers) => {
    const total = containers.reduce((sum, { pieces }) => sum + pieces, 0);
    return fc.record({
      containers: fc.constant(
        containers.map(({ pieces, trayPieces }, index) => ({
          container: `drum ${index + 1}`,
          pieces,
          ...(trayPieces === undefined ? {} : { trayPieces }),
        })),
      ),
      sampleSizePieces: fc.integer({ min: 1, max: Math.min(total, 400) }),
      seed: fc
        .array(fc.integer({ min: 0, max: 15 }), { minLength: 16, maxLength: 80 })
        .map((digits) => digits.map((digit) => digit.toString(16)).join('')),
    });
  });

describe('every draw', () => {
  it('takes as many pieces as asked, each once, in walking order, and where they can lie', () => {
    fc.assert(
      fc.property(lots, (input) => {
        const { allocation, picks } = draw(input);
        expect(picks).toHaveLength(input.sampleSizePieces);
        expect(picks.map((pick) => pick.pick)).toEqual(picks.map((_, index) => index + 1));
        const places = picks.map((pick) => {
          const index = input.containers.findIndex(({ container }) => container === pick.container);
          const { pieces, trayPieces } = input.containers[
            index
          ] as (typeof input.containers)[number];
          const place = ((pick.tray ?? 1) - 1) * (trayPieces ?? 0) + pick.position;
          expect(place).toBeGreaterThanOrEqual(1);
          expect(place).toBeLessThanOrEqual(pieces);
          return index * 1e6 + place;
        });
        for (let index = 1; index < places.length; index += 1) {
          expect(places[index] as number).toBeGreaterThan(places[index - 1] as number);
        }
        for (const [index, share] of allocation.entries()) {
          const here = picks.filter((pick) => pick.container === share.container).length;
          expect(here).toBe(share.pieces);
          expect(share.pieces).toBeLessThanOrEqual(input.containers[index]?.pieces ?? 0);
          if (input.sampleSizePieces >= input.containers.length) {
            expect(share.pieces).toBeGreaterThanOrEqual(1);
          }
        }
      }),
      { seed, numRuns: 400 },
    );
  });

  it('is repeated by the same seed, written in capitals or not', () => {
    fc.assert(
      fc.property(lots, (input) => {
        expect(draw({ ...input, seed: input.seed.toUpperCase() })).toEqual(draw(input));
      }),
      { seed, numRuns: 100 },
    );
  });

  it('lies within one piece of the proportional share where every share is one or more', () => {
    fc.assert(
      fc.property(lots, ({ containers, sampleSizePieces, seed: text }) => {
        const pieces = containers.map((container) => container.pieces);
        const total = pieces.reduce((sum, value) => sum + value, 0);
        const shares = pieces.map((value) => (value * sampleSizePieces) / total);
        if (shares.some((share) => share < 1) && sampleSizePieces >= pieces.length) return;
        const allocation = allocateSample(pieces, sampleSizePieces, seededIntegers(text));
        for (const [index, share] of shares.entries()) {
          expect(Math.abs((allocation[index] ?? 0) - share)).toBeLessThan(1);
        }
      }),
      { seed, numRuns: 400 },
    );
  });
});

describe('every digit of the seed', () => {
  it('changes the draw when it is changed', () => {
    const base = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    const containers = [{ container: 'drum', pieces: 1_000_000 }];
    const drawn = (text: string) =>
      JSON.stringify(draw({ seed: text, containers, sampleSizePieces: 3 }));
    const seen = new Set([drawn(base)]);
    for (let index = 0; index < base.length; index += 1) {
      const digit = (Number.parseInt(base[index] ?? '0', 16) ^ 1).toString(16);
      seen.add(drawn(base.slice(0, index) + digit + base.slice(index + 1)));
    }
    seen.add(drawn(`${base}0`));
    seen.add(drawn(base.slice(0, 63)));
    expect(seen.size).toBe(base.length + 3);
  });
});

// Each limit would be passed by chance in one of ten thousand choices of the seeds, which are fixed.
describe('nobody is favoured', () => {
  const draws = 4000;

  it('every position of a container is drawn equally often', () => {
    const pieces = 25;
    const counts = new Array<number>(pieces).fill(0);
    for (let index = 0; index < draws; index += 1) {
      const { picks } = draw({
        seed: seedOf(index),
        containers: [{ container: 'drum', pieces }],
        sampleSizePieces: 5,
      });
      for (const { position } of picks) counts[position - 1] = (counts[position - 1] ?? 0) + 1;
    }
    // Five of a draw exclude each other, which makes counts more equal than chance by (25 − 5)/24.
    const probability = chiSquareProbability(
      counts.map((count) => count / Math.sqrt(20 / 24)),
      counts.map(() => (draws * 5) / pieces / Math.sqrt(20 / 24)),
    );
    expect(probability).toBeGreaterThan(1e-4);
    expect(probability).toBeLessThan(1 - 1e-4);
  });

  it('every pair of positions is drawn equally often', () => {
    const counts = new Map<string, number>();
    for (let index = 0; index < draws; index += 1) {
      const { picks } = draw({
        seed: seedOf(index + 1e6),
        containers: [{ container: 'drum', pieces: 8 }],
        sampleSizePieces: 2,
      });
      const pair = picks.map((pick) => pick.position).join('-');
      counts.set(pair, (counts.get(pair) ?? 0) + 1);
    }
    expect(counts.size).toBe(28);
    const probability = chiSquareProbability(
      [...counts.values()],
      [...counts.values()].map(() => draws / 28),
    );
    expect(probability).toBeGreaterThan(1e-4);
  });

  it('fewer picks than containers: each container in proportion to its pieces', () => {
    const sizes = [10, 20, 30, 40, 100];
    const counts = sizes.map(() => 0);
    for (let index = 0; index < draws; index += 1) {
      const allocation = allocateSample(sizes, 1, seededIntegers(seedOf(index + 2e6)));
      for (const [container, pieces] of allocation.entries()) {
        counts[container] = (counts[container] ?? 0) + pieces;
      }
    }
    const probability = chiSquareProbability(
      counts,
      sizes.map((size) => (draws * size) / 200),
    );
    expect(probability).toBeGreaterThan(1e-4);
  });

  it('equal remainders are decided by the seed, not by the place in the list', () => {
    const counts = [0, 0, 0];
    for (let index = 0; index < draws; index += 1) {
      const allocation = allocateSample([100, 100, 100], 4, seededIntegers(seedOf(index + 3e6)));
      const favoured = allocation.indexOf(2);
      counts[favoured] = (counts[favoured] ?? 0) + 1;
    }
    const probability = chiSquareProbability(counts, [draws / 3, draws / 3, draws / 3]);
    expect(probability).toBeGreaterThan(1e-4);
  });

  it('numbers below a bound that is no power of two are equally frequent', () => {
    const stream = seededIntegers(seedOf(7));
    const counts = new Array<number>(97).fill(0);
    for (let index = 0; index < 97_000; index += 1) {
      const number = stream.below(97);
      counts[number] = (counts[number] ?? 0) + 1;
    }
    const probability = chiSquareProbability(
      counts,
      counts.map(() => 1000),
    );
    expect(probability).toBeGreaterThan(1e-4);
    expect(probability).toBeLessThan(1 - 1e-4);
  });
});
