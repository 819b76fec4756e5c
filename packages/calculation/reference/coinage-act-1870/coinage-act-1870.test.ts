import { describe, expect, it } from 'vitest';
import { statedWeightGiveaway } from '../../src/mass/troy-ounce.ts';
import { giveaway, giveawayCalculation } from '../../src/weights/giveaway.ts';
import { pieceConformity } from '../../src/weights/piece-conformity.ts';
import values from './values.json' with { type: 'json' };

const weighing = {
  individualStandardUncertaintyGrams: 1e-6,
  commonStandardUncertaintyGrams: 0,
  greatestRisk: 0.05,
};

function verdictOf(mass: number, lower: number, upper?: number) {
  return pieceConformity({
    ...weighing,
    massesGrams: [mass],
    rules: [
      {
        kind: 'every-piece',
        lowerLimitGrams: lower,
        ...(upper === undefined ? {} : { upperLimitGrams: upper }),
      },
    ],
  }).verdict;
}

describe('remedies of weight', () => {
  it.each(values.cases)('$id', ({ massGrams, standardGrams, remedyGrams, ...rest }) => {
    const found =
      rest.leastCurrentGrams === undefined
        ? verdictOf(
            massGrams,
            standardGrams - (remedyGrams as number),
            standardGrams + (remedyGrams as number),
          )
        : verdictOf(massGrams, rest.leastCurrentGrams);
    expect(found).toBe(rest.decision);
  });

  // A coin of exactly the standard weight keeps its remedy, one twice the remedy off does not.
  it.each(values.table)('$metal $coin keeps its remedy', ({ standardGrams, remedyGrams }) => {
    const lower = standardGrams - remedyGrams;
    const upper = standardGrams + remedyGrams;
    expect(verdictOf(standardGrams, lower, upper)).toBe('passes');
    expect(verdictOf(standardGrams - 2 * remedyGrams, lower, upper)).toBe('fails');
    expect(verdictOf(lower, lower, upper)).toBe('undecided');
  });

  it('ten sovereigns in bulk and one by one', () => {
    const { massesGrams, standardGrams, remedyGrams, bulkGrams, meanVariationGrams } = values.bulk;
    const limits = {
      lowerLimitGrams: standardGrams - remedyGrams,
      upperLimitGrams: standardGrams + remedyGrams,
    };
    const result = pieceConformity({
      ...weighing,
      massesGrams,
      rules: [
        { kind: 'every-piece', ...limits },
        { kind: 'sample-mean', ...limits },
      ],
    });
    expect(result.rules.map(({ verdict, outside }) => [verdict, outside])).toEqual([
      ['passes', 0],
      ['passes', 0],
    ]);
    const mean = result.rules[1]?.worstGrams ?? Number.NaN;
    expect(10 * mean).toBeCloseTo(bulkGrams, 6);
    // Printed to five places.
    expect(Math.abs(mean - standardGrams - meanVariationGrams)).toBeLessThan(5e-6);
  });
});

describe('fine metal', () => {
  const plain = {
    ...giveawayCalculation.example,
    lotPieces: 1,
    finenessStandardUncertaintyPerMille: 0,
    individualStandardUncertaintyGrams: 0,
    commonStandardUncertaintyGrams: 0,
  };

  it.each(values.fine)('$id', ({ massGrams, finenessPerMille, fineGrams }) => {
    const result = giveaway({
      ...plain,
      masses: { kind: 'pieces', massesGrams: [massGrams] },
      declaredMassGrams: massGrams,
      declaredFinenessPerMille: finenessPerMille,
      finenessPerMille,
    });
    const places = fineGrams.split('.')[1]?.length ?? 0;
    expect(Math.abs(result.fineGrams - Number(fineGrams))).toBeLessThan(0.5 * 10 ** -places);
    expect(result.total.perPieceGrams).toBe(0);
  });

  it('a piece of 31.21 g and 999.9 ‰ gives away what it holds over one troy ounce', () => {
    const [, proclaimed] = values.fine;
    const result = giveaway({
      ...plain,
      masses: { kind: 'pieces', massesGrams: [31.21] },
      declaredMassGrams: 31.1034768,
      declaredFinenessPerMille: 1000,
      finenessPerMille: 999.9,
    });
    expect(result.total.perPieceGrams).toBeCloseTo(
      Number(proclaimed?.surplusOverTroyOunceGrams),
      4,
    );
  });

  // Two roads: bars spread evenly over a step, and the closed form of the rule of steps.
  it('bars stated by steps give away what the rule of steps says', () => {
    const step = 0.025;
    const ounce = 31.1034768;
    const dead = Array.from(
      { length: 2000 },
      (_, index) => 400 + 0.002 + (step * (index + 0.5)) / 2000,
    );
    const result = giveaway({
      ...plain,
      masses: { kind: 'pieces', massesGrams: dead.map((bar) => bar * ounce) },
      lotPieces: 2000,
      declaredMassGrams: 400 * ounce,
      declaredFinenessPerMille: 1000,
      finenessPerMille: 1000,
    });
    const closed = statedWeightGiveaway({ stepTroyOunces: step, turnTroyOunces: 0.002 });
    expect(result.total.perPieceGrams).toBeCloseTo(closed.meanGrams, 8);
  });
});
