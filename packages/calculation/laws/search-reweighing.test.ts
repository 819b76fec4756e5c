import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { reweighingValue } from '../src/search/reweighing.ts';
import type { ReweighingCheck } from '../src/search/reweighing-schema.ts';

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const options = fc.tuple(between(0.01, 1), between(0.01, 1), between(0.01, 1)).map((parts) => {
  const sum = parts.reduce((total, part) => total + part, 0);
  return parts.map((part, at) => ({ pieces: at - 1, probability: part / sum }));
});

const weighing = fc.record({
  kind: fc.constant('weighing' as const),
  pieceMassGrams: between(1, 40),
  weighings: fc.integer({ min: 0, max: 3 }),
  deviationGrams: between(-40, 40),
  predictedGrams: between(-1, 1),
  lastingStandardUncertaintyGrams: between(0, 10),
  repeatStandardUncertaintyGrams: between(0.05, 10),
  badWeighingProbability: between(1e-6, 0.2),
  badWeighingSpreadGrams: between(1, 40),
});

const check: fc.Arbitrary<ReweighingCheck> = fc
  .record({ options, act: weighing, minutes: between(0.1, 60) })
  .map((one) => ({ name: 'tube', recordedPieces: 20, ...one }));

const only = (
  one: ReweighingCheck,
  places = [] as Parameters<typeof reweighingValue>[0]['places'],
) => reweighingValue({ checks: [one], places }).checks[0];

describe('one more weighing', () => {
  it('tells no less than nothing and no more than what is open', () => {
    fc.assert(
      fc.property(check, (one) => {
        const value = only(one);
        expect(value?.informationBits).toBeGreaterThanOrEqual(0);
        expect(value?.informationBits).toBeLessThanOrEqual((value?.openBits ?? 0) + 1e-9);
      }),
      { numRuns: 60 },
    );
  });

  it('tells at least what the outcomes told apart in words tell', () => {
    fc.assert(
      fc.property(check, (one) => {
        const value = only(one);
        const open = (list: readonly { readonly probability: number }[]) =>
          list.reduce((sum, { probability: p }) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
        const left = (value?.outcomes ?? []).reduce(
          (sum, outcome) => sum + outcome.probability * open(outcome.options),
          0,
        );
        // Putting readings together into classes can only lose.
        expect((value?.openBits ?? 0) - left).toBeLessThanOrEqual(
          (value?.informationBits ?? 0) + 1e-9,
        );
      }),
      { numRuns: 60 },
    );
  });

  it('is the same in grams and in grains', () => {
    fc.assert(
      fc.property(check, between(0.1, 20), (one, factor) => {
        if (one.act.kind !== 'weighing') return;
        const act = { ...one.act };
        for (const field of [
          'pieceMassGrams',
          'deviationGrams',
          'predictedGrams',
          'lastingStandardUncertaintyGrams',
          'repeatStandardUncertaintyGrams',
          'badWeighingSpreadGrams',
        ] as const) {
          act[field] *= factor;
        }
        expect(only({ ...one, act })?.informationBits).toBeCloseTo(
          only(one)?.informationBits ?? Number.NaN,
          8,
        );
      }),
      { numRuns: 40 },
    );
  });

  it('never makes the looking longer than by its own minutes', () => {
    fc.assert(
      fc.property(
        check,
        between(0.1, 1),
        between(1, 60),
        between(1, 60),
        (one, seen, own, other) => {
          const wrong = one.options
            .filter(({ pieces }) => pieces !== 0)
            .reduce((sum, { probability }) => sum + probability, 0);
          const places = [
            { name: 'tube', probability: wrong, seenIfThere: 1, minutes: own },
            { name: 'floor', probability: 1 - wrong, seenIfThere: seen, minutes: other },
          ];
          expect(only(one, places)?.savedMinutes).toBeGreaterThanOrEqual(0 - one.minutes - 1e-9);
        },
      ),
      { numRuns: 60 },
    );
  });
});
