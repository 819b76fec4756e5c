import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../journal/reading.ts';
import { differenceUncertaintyGrams, massDifference } from './mass-difference.ts';

const balance = { divisionGrams: 0.1, repeatabilityGrams: 0.1, gainRelative: 0.00002 };
const stated = (text: string, unit: Reading['unit'] = 'g'): Reading => ({
  text,
  unit,
  typed: true,
});

describe('the uncertainty of a difference in mass', () => {
  it('is the root of the sum of squares of its causes', () => {
    const documented = { gross: stated('5010.0'), tare: stated('2000') };
    // By hand, both balances alike: 2 × (2 × (0.1² + 0.1²/12) + (0.00002 × 3000)²) + 0.1²/12 + 1²/12
    //        = 2 × 0.0252667 + 0.00083333 + 0.0833333 = 0.1347; the root is 0.367015.
    expect(differenceUncertaintyGrams(3000, balance, documented)).toBeCloseTo(0.367015, 6);
  });

  it('takes the last digit of the document in the unit in which it stands', () => {
    const none = { divisionGrams: 0, repeatabilityGrams: 0, gainRelative: 0 };
    const kilograms = { gross: stated('5.0100', 'kg'), tare: stated('2.0', 'kg') };
    // A step of 0.1 g and one of 100 g: the root of (0.1² + 100²) / 12 is 28.867528.
    expect(differenceUncertaintyGrams(3000, none, kilograms)).toBeCloseTo(28.867528, 6);
    const milligrams = { gross: stated('5010000', 'mg'), tare: stated('2000000', 'mg') };
    expect(differenceUncertaintyGrams(3000, none, milligrams)).toBeCloseTo(
      Math.sqrt(2 / 12) / 1000,
      9,
    );
  });

  it('agrees with the spread of simulated documents and weighings', () => {
    // Another road: 40 000 weighings with a fixed generator of Lehmer's kind, all causes drawn.
    let state = 20_260_302;
    const uniform = () => {
      state = (state * 48_271) % 2_147_483_647;
      return state / 2_147_483_647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const off = (width: number) => (uniform() - 0.5) * width;
    const weigh = () => balance.repeatabilityGrams * normal() + off(balance.divisionGrams);
    const runs = 40_000;
    let squares = 0;
    for (let run = 0; run < runs; run += 1) {
      const net = () => weigh() - weigh() + 3000 * balance.gainRelative * normal();
      squares += (net() - net() - (off(0.1) - off(1))) ** 2;
    }
    const documented = { gross: stated('5010.0'), tare: stated('2000') };
    const uncertainty = differenceUncertaintyGrams(3000, balance, documented);
    // The spread of so many runs is itself known to 1 / √(2 × 40 000), about 0.4 %.
    expect(Math.sqrt(squares / runs) / uncertainty).toBeCloseTo(1, 1.7);
  });
});

describe('a difference in mass', () => {
  const documented = { gross: stated('5010.0'), tare: stated('2000.0') };
  const of = (foundMicrograms: number) =>
    massDifference({ foundMicrograms, documentedMicrograms: 3_010_000_000 }, balance, documented);

  it('is certain from three times its standard uncertainty on', () => {
    // By hand: 2 × (0.0216667 + (0.00002 × 3009.3)²) + 2 × 0.1²/12, the root is 0.22857; times three 0.6857.
    expect(of(3_009_300_000)).toMatchObject({ differenceMicrograms: -700_000, isCertain: true });
    expect(of(3_009_320_000)).toMatchObject({ differenceMicrograms: -680_000, isCertain: false });
    expect(of(3_010_700_000)).toMatchObject({ differenceMicrograms: 700_000, isCertain: true });
  });
});
