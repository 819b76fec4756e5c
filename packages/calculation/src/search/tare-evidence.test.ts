import { describe, expect, it } from 'vitest';
import { weighingRatio } from './container-evidence.ts';
import { weighingRatioWithTare, wrongTareProbability } from './tare-evidence.ts';

const bad = { probability: 1e-3, spreadGrams: 20 };
const tare = { probability: 2e-4, tareGrams: 20 };
const reading = (deviationGrams: number) => ({
  deviationGrams,
  predictedGrams: 0,
  standardUncertaintyGrams: 0.3,
});
const normal = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** Density of a deviation at x pieces of 8 g, written out part by part. */
function density(y: number, x: number): number {
  const n = (mean: number, s: number) => normal((y - mean) / s) / s;
  const right = (1 - 1e-3) * n(8 * x, 0.3) + 1e-3 * n(0, Math.hypot(20, 0.3));
  return (1 - 2e-4) * right + 1e-4 * (n(8 * x + 20, 0.3) + n(8 * x - 20, 0.3));
}

describe('a tare that was left out or taken twice', () => {
  it.each([-20.2, -8.1, 0.2, 4, 19.7, 28.1])('is weighed part by part at %d g', (y) => {
    for (const pieces of [-1, 0, 1]) {
      const change = { pieces, pieceMassGrams: 8 };
      const tared =
        1e-4 * ((normal((y - 8 * pieces - 20) / 0.3) + normal((y - 8 * pieces + 20) / 0.3)) / 0.3);
      expect(wrongTareProbability(reading(y), change, { bad, tare })).toBeCloseTo(
        tared / density(y, pieces),
        12,
      );
      expect(
        weighingRatioWithTare(reading(y), change, { bad, tare }) /
          (density(y, pieces) / density(y, 0)),
      ).toBeCloseTo(1, 12);
    }
  });

  it('changes nothing where the reading fits and no tare is wrong', () => {
    const change = { pieces: -1, pieceMassGrams: 8 };
    const seldom = { probability: 1e-12, tareGrams: 20 };
    expect(
      weighingRatioWithTare(reading(-8.1), change, { bad, tare: seldom }) /
        weighingRatio(reading(-8.1), change, bad),
    ).toBeCloseTo(1, 8);
  });

  it('refuses a chance or a tare of nothing', () => {
    const change = { pieces: 0, pieceMassGrams: 8 };
    const chance = { probability: 0, tareGrams: 20 };
    const mass = { probability: 0.1, tareGrams: 0 };
    expect(() => wrongTareProbability(reading(0), change, { bad, tare: chance })).toThrow(
      /tare\.probability/,
    );
    expect(() => wrongTareProbability(reading(0), change, { bad, tare: mass })).toThrow(
      /tare\.tareGrams/,
    );
  });
});
