import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convertedMass, convertMass } from '../src/mass/convert-mass.ts';
import { fineMicrograms } from '../src/mass/fine-mass.ts';
import { massUnits, tensOfNanogramsByUnit } from '../src/mass/mass-units.ts';
import { postingFineMicrograms } from '../src/mass/posting-fine-mass.ts';
import { DomainError } from '../src/quantity/domain.ts';

const unit = fc.constantFrom(...massUnits);
const rule = fc.constantFrom('half-even', 'half-up', 'down', 'up');
const digits = fc
  .tuple(fc.integer({ min: 0, max: 10 ** 9 }), fc.integer({ min: 0, max: 999_999 }))
  .map(([whole, part]) => `${whole}.${String(part).padStart(6, '0')}`);

describe('laws of the units of mass', () => {
  it('ratios there and back multiply to the mass itself', () => {
    fc.assert(
      fc.property(digits, unit, unit, (mass, from, to) => {
        const there = convertMass({
          mass,
          unit: from,
          decimalPlaces: 0,
          roundingRule: 'down',
        }).conversions.find((one) => one.unit === to);
        const [whole = '', part = ''] = mass.split('.');
        // mass · from = (numerator/denominator) · to, in whole numbers.
        expect(BigInt(there?.numerator ?? 0) * tensOfNanogramsByUnit[to] * 1_000_000n).toBe(
          BigInt(whole + part) * tensOfNanogramsByUnit[from] * BigInt(there?.denominator ?? 0),
        );
      }),
      { seed: 401, numRuns: 300 },
    );
  });

  it('a rounded figure is the exact one but for less than one last place, on the side of its rule', () => {
    fc.assert(
      fc.property(digits, unit, unit, rule, (mass, from, to, roundingRule) => {
        const figure = (decimalPlaces: number, one: typeof roundingRule) =>
          convertedMass(mass, { from, to }, { decimalPlaces, roundingRule: one });
        const inThousandths = (text: string) => BigInt(text.replace('.', ''));
        const rounded = inThousandths(figure(3, roundingRule));
        const down = inThousandths(figure(3, 'down'));
        const up = inThousandths(figure(3, 'up'));
        expect(up - down === 0n || up - down === 1n).toBe(true);
        expect(rounded === down || rounded === up).toBe(true);
      }),
      { seed: 402, numRuns: 300 },
    );
  });

  it('agrees with doubles to their accuracy, a second road', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), unit, unit, (mass, from, to) => {
        const exact = Number(
          convertedMass(mass, { from, to }, { decimalPlaces: 25, roundingRule: 'half-even' }),
        );
        const ratio = Number(tensOfNanogramsByUnit[from]) / Number(tensOfNanogramsByUnit[to]);
        expect(Math.abs(exact / (mass * ratio) - 1)).toBeLessThan(1e-14);
      }),
      { seed: 403, numRuns: 300 },
    );
  });
});

describe('fine mass of a posting', () => {
  const gross = fc.oneof(
    fc.integer({ min: -9e15, max: 9e15 }),
    fc.integer({ min: -9_000_000, max: 9_000_000 }).map((grams) => grams * 1_000_000_000),
    fc.integer({ min: -2e6, max: 2e6 }),
  );
  const fineness = fc.oneof(
    fc.integer({ min: 0, max: 1_000_000 }),
    fc.constantFrom(0, 500_000, 1_000_000),
  );

  it('is that of the road of big integers, under every rule', () => {
    fc.assert(
      fc.property(gross, fineness, rule, (mass, ppm, one) => {
        const exact = fineMicrograms(BigInt(mass), BigInt(ppm), one);
        expect(BigInt(postingFineMicrograms(mass, ppm, one))).toBe(exact);
      }),
      { seed: 404, numRuns: 5000 },
    );
  });

  it('is right next to every whole gram at the far ends, where quotients round', () => {
    for (const near of [8_999_999_999, -8_999_999_999, 4_503_599_627, -4_503_599_627]) {
      for (const off of [-1, 0, 1, 499_999, 500_000]) {
        const mass = near * 1_000_000 + off;
        for (const ppm of [1, 333_333, 500_000, 999_999, 1_000_000]) {
          const exact = fineMicrograms(BigInt(mass), BigInt(ppm), 'half-even');
          expect(BigInt(postingFineMicrograms(mass, ppm, 'half-even'))).toBe(exact);
        }
      }
    }
  });

  it('turns its sign with a reversing posting under rules without direction', () => {
    fc.assert(
      fc.property(gross, fineness, (mass, ppm) => {
        const forward = postingFineMicrograms(mass, ppm, 'half-even');
        expect(postingFineMicrograms(-mass, ppm, 'half-even') + forward).toBe(0);
      }),
      { seed: 405, numRuns: 500 },
    );
  });

  it('refuses masses that are not whole or too large, a fineness out of range, an unknown rule', () => {
    expect(() => postingFineMicrograms(1.5, 1, 'down')).toThrow(DomainError);
    expect(() => postingFineMicrograms(9e15 + 2, 1, 'down')).toThrow(/grossMicrograms/);
    expect(() => postingFineMicrograms(1, 1_000_001, 'down')).toThrow(/finenessPartsPerMillion/);
    expect(() => postingFineMicrograms(1, 0.5, 'down')).toThrow(/finenessPartsPerMillion/);
    expect(() => postingFineMicrograms(1, 1, 'nearest' as never)).toThrow(/rule/);
  });
});
