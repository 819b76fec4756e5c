import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { giveaway, giveawayCalculation } from '../../src/weights/giveaway.ts';

const standardGrams = 7.9876;
const grandMeanGrams = 7.94748722628;

const classes = readFileSync(new URL('./values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [age, coins, mean, deviation] = line.split(',').map(Number) as [
      number,
      number,
      number,
      number,
    ];
    return { age, coins, mean, deviation };
  });

function lossOf({ coins, mean, deviation }: (typeof classes)[number]) {
  return giveaway({
    ...giveawayCalculation.example,
    masses: {
      kind: 'summary',
      weighedPieces: coins,
      meanGrams: mean,
      standardDeviationGrams: deviation,
    },
    lotPieces: coins,
    declaredMassGrams: standardGrams,
    declaredFinenessPerMille: 1000,
    finenessPerMille: 1000,
    finenessStandardUncertaintyPerMille: 0,
  }).total;
}

describe('274 worn sovereigns', () => {
  it('are all there', () => {
    expect(classes.reduce((sum, one) => sum + one.coins, 0)).toBe(274);
  });

  it('fall short of the standard by the number of coins times the grand mean less the standard', () => {
    const lost = classes.reduce((sum, one) => sum + lossOf(one).lotGrams, 0);
    expect(lost).toBeCloseTo(274 * (grandMeanGrams - standardGrams), 8);
  });

  it('lose more the older they are', () => {
    const losses = classes.map((one) => lossOf(one).perPieceGrams);
    expect([...losses].sort((a, b) => b - a)).toEqual(losses);
    expect(losses.every((loss) => loss < 0)).toBe(true);
  });
});
