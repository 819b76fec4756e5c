import { describe, expect, it } from 'vitest';
import { scoreHistory } from './score-history.ts';

const run = (scores: readonly number[]) =>
  scoreHistory({
    participant: 'Own laboratory',
    characteristic: 'Gold',
    rounds: scores.map((z, index) => ({ name: `R${index + 1}`, z })),
  });

const signalsOf = (scores: readonly number[]) =>
  run(scores).signals.map((one) => `${one.round} ${one.signal}`);

describe('scores over rounds', () => {
  it('signal a score of 3, two of three beyond 2, and six on one side', () => {
    expect(signalsOf([0.1, -3, 0.2])).toEqual(['R2 beyond-action']);
    expect(signalsOf([2.1, 0, -2.5, 0.3])).toEqual(['R3 two-of-three-beyond-warning']);
    expect(signalsOf([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, -1])).toEqual(['R6 six-on-one-side']);
    expect(signalsOf([2, -2, 2, -2])).toEqual([]);
  });

  it('see a bias and too large scores', () => {
    const biased = run([1.5, 1.4, 1.6, 1.7, 1.5]);
    expect(biased.rescaledSum).toBeCloseTo(7.7 / Math.sqrt(5), 12);
    expect(biased.words).toContain('look for a bias');
    const wild = run([2.5, -2.6, 2.4, -2.7]);
    // 26.06 with four degrees of freedom: exp(−x/2)(1 + x/2) above it.
    const half = wild.sumOfSquares / 2;
    expect(wild.sumOfSquaresProbability).toBeCloseTo(Math.exp(-half) * (1 + half), 12);
    expect(wild.words).toContain('larger than they should be');
  });

  it('have nothing to say for a quiet laboratory, nor a deviation for one round', () => {
    expect(run([0.3, -0.4, 0.1]).words).toContain('No signal.');
    expect(run([0])).toMatchObject({ standardDeviation: null, sumOfSquaresProbability: 1 });
  });
});
