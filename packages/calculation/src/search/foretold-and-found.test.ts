import { describe, expect, it } from 'vitest';
import { foretoldAndFound } from './foretold-and-found.ts';
import { countDistribution, twoSidedProbability } from './poisson-binomial.ts';

/** Probability of each number of events by going through every combination. */
function byEnumeration(probabilities: readonly number[]): number[] {
  const sums = new Array<number>(probabilities.length + 1).fill(0);
  for (let set = 0; set < 2 ** probabilities.length; set += 1) {
    let weight = 1;
    let count = 0;
    for (const [at, probability] of probabilities.entries()) {
      const isIn = ((set >> at) & 1) === 1;
      weight *= isIn ? probability : 1 - probability;
      if (isIn) count += 1;
    }
    sums[count] = (sums[count] ?? 0) + weight;
  }
  return sums;
}

describe('the number of events of unequal chance', () => {
  it('is that of going through every combination', () => {
    const probabilities = [0.9, 0.03, 0.5, 0.71, 0.2, 0.999, 1e-4, 0.33];
    const exact = byEnumeration(probabilities);
    for (const [count, part] of countDistribution(probabilities).entries()) {
      expect(part).toBeCloseTo(exact[count] ?? Number.NaN, 15);
    }
  });

  it('is binomial where the chances are equal', () => {
    // Ten throws of a fair coin: 45 of 1024 show two heads, 56 show at most two.
    const fair = new Array<number>(10).fill(0.5);
    expect(countDistribution(fair)[2]).toBeCloseTo(45 / 1024, 15);
    expect(twoSidedProbability(fair, 2)).toBeCloseTo((2 * 56) / 1024, 15);
    expect(twoSidedProbability(fair, 5)).toBe(1);
  });
});

const foretold = (probability: number, found: number, of: number) =>
  Array.from({ length: of }, (_, at) => ({ probability, isFound: at < found }));

describe('foretoldAndFound', () => {
  it('counts each band by itself, the probability 1 in the last', () => {
    const cases = [...foretold(0.05, 1, 20), ...foretold(0.1, 0, 2), ...foretold(1, 3, 3)];
    const { bands } = foretoldAndFound({ cases, bandEnds: [0.1, 0.5] });
    expect(bands.map(({ from, to, cases: of, found }) => [from, to, of, found])).toEqual([
      [0, 0.1, 20, 1],
      [0.1, 0.5, 2, 0],
      [0.5, 1, 3, 3],
    ]);
    // Binomial: sqrt(0.05 * 0.95 / 20).
    expect(bands[0]?.standardError).toBeCloseTo(0.048733971724, 12);
  });

  it('gives the limits of Wilson’s worked case: 15 of 148', () => {
    // Newcombe (1998), Statistics in Medicine 17, 857-872, table I: 15/148, score method without
    // continuity correction: 0.0624 to 0.1605.
    const { bands } = foretoldAndFound({ cases: foretold(0.1, 15, 148), bandEnds: [0.5] });
    expect(bands[0]?.shareLower).toBeCloseTo(0.0624, 4);
    expect(bands[0]?.shareUpper).toBeCloseTo(0.1605, 4);
  });

  it('has the mean square of one quarter when one half is said of everything', () => {
    const { brierScore, brierExpected } = foretoldAndFound({
      cases: foretold(0.5, 3, 7),
      bandEnds: [0.5],
    });
    expect(brierScore).toBe(0.25);
    expect(brierExpected).toBe(0.25);
  });

  it('says when chance does not explain what was found, and when too few were', () => {
    const over = foretoldAndFound({ cases: foretold(0.9, 24, 60), bandEnds: [0.5] });
    expect(over.words).toContain('not to be trusted');
    const few = foretoldAndFound({ cases: foretold(0.9, 2, 2), bandEnds: [0.5] });
    expect(few.words).toBe(
      'Of 2 things foretold 1.8 were to be found and 2 were. That is what chance allows. 2 found are few: a wrong model would hardly show.',
    );
  });

  it('refuses ends of bands that do not rise', () => {
    expect(() => foretoldAndFound({ cases: foretold(0.5, 1, 1), bandEnds: [0.5, 0.2] })).toThrow(
      /bandEnds.*rise/s,
    );
  });
});
