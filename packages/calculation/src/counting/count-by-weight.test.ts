import { describe, expect, it } from 'vitest';
import type { Calculation } from '../catalogue/calculation.ts';
import { runCalculation } from '../catalogue/run.ts';
import { boxAgainstTubes } from './box-against-tubes.ts';
import { countByWeight, countByWeightCalculation } from './count-by-weight.ts';
import { countPosterior, countPrior } from './count-posterior.ts';
import { shouldStopLine } from './line-warning.ts';
import { nestedSample } from './nested-sample.ts';
import {
  largestProvableCount,
  misclassificationProbability,
  netMassVariance,
} from './net-mass-uncertainty.ts';
import { compareSiblings } from './sibling-comparison.ts';

const calculation = countByWeightCalculation as unknown as Calculation;
const tube = countByWeightCalculation.example;
const weigh = (...netReadingsGrams: number[]) => countByWeight({ ...tube, netReadingsGrams });

describe('countByWeight', () => {
  // Budget and risks of this tube: see reference/counting, cases CNT-001 to CNT-003.
  it('states the budget, the risk and the largest counts of the silver tube', () => {
    const result = weigh(622);
    expect(result.standardUncertaintyGrams).toBeCloseTo(0.5104267887, 9);
    expect(result.misclassificationProbability / 7.651418592e-204).toBeCloseTo(1, 5);
    expect(result.largestProvableCount).toEqual({
      atRiskOneInThousand: 217,
      atRiskOneInMillion: 145,
    });
    expect(result.expectedGrams).toBe(622);
    expect(result.warnWindowGrams.upper - 622).toBeCloseTo(3 * 0.5104267887, 8);
    expect(result.rejectWindowGrams).toEqual({ lower: 622 - 15.55, upper: 622 + 15.55 });
  });

  it('gives the variances that the budget of the silver tube lists', () => {
    const model = { ...tube, referenceMeanStandardUncertaintyGrams: 0.05 / Math.sqrt(50) };
    const variance = netMassVariance(model, 20);
    // Lot 0.160, pieces 0.050, tare 0.0225, reference 0.020, gain 0.0039.
    expect(variance.sharedSquareGrams).toBeCloseTo(0.16 + 0.05 + 0.0225 + 0.02 + 0.00387, 4);
    expect(variance.repeatabilitySquareGrams).toBeCloseTo(0.0025, 12);
    expect(variance.roundingSquareGrams).toBeCloseTo(0.00167, 5);
  });

  it('a fitting reading proves the count', () => {
    const result = weigh(622.3);
    expect(result.verdict).toBe('proved');
    expect(result.posterior.map((entry) => entry.pieces)).toEqual([19, 20, 21]);
    expect(result.words).toBe('20 pieces, probability 0.99997.');
  });

  it('one light reading is weighed again before the tube is opened', () => {
    const result = weigh(590.8);
    expect(result.verdict).toBe('weigh-again');
    expect(result.posterior[0]?.probability).toBeCloseTo(0.963, 3);
    expect(result.probabilityBadWeighing).toBeCloseTo(0.037, 3);
    expect(result.words).toContain('reads as 19 pieces');
  });

  it('a second light reading shows a short tube', () => {
    const result = weigh(590.8, 590.9);
    expect(result.verdict).toBe('differs');
    expect(result.posterior[0]?.probability).toBeGreaterThan(0.9999);
    expect(result.words).toContain('19 pieces, not 20');
  });

  it('half a piece light is a bad weighing and never a count', () => {
    const result = weigh(606.4);
    expect(result.verdict).toBe('weigh-again');
    expect(result.probabilityBadWeighing).toBeGreaterThan(0.9999);
    expect(weigh(606.4, 622.1).verdict).toBe('proved');
    expect(weigh(606.4, 622.1).badWeighingByReading[0]).toBeGreaterThan(0.9999);
  });

  it('two pieces short are found by two weighings', () => {
    expect(weigh(559.8).verdict).toBe('weigh-again');
    const result = weigh(559.8, 559.9);
    expect(result.verdict).toBe('differs');
    expect(result.posterior[0]).toMatchObject({ pieces: 18 });
    expect(result.posterior[0]?.probability).toBeGreaterThan(0.999);
  });

  it('a mass off twice without fitting another count is opened', () => {
    expect(weigh(624.5).verdict).toBe('weigh-again');
    const result = weigh(624.5, 624.4);
    expect(result.verdict).toBe('differs');
    expect(result.words).toContain('foreign piece');
    expect(weigh(624.5, 619.4).verdict).toBe('weigh-again');
  });

  it('a good weighing followed by a contrary one is not yet proof', () => {
    expect(weigh(622.1, 590.8).verdict).toBe('weigh-again');
  });

  it('a coarse scale says that it cannot prove small gold pieces, as CNT-019 has it', () => {
    const result = countByWeight({
      ...tube,
      pieceMassGrams: 3.11,
      pieceStandardDeviationGrams: 0.01,
      lotStandardDeviationGrams: 0.003,
      tareStandardDeviationGrams: 0.1,
      repeatabilityGrams: 0.3,
      divisionGrams: 1,
      netReadingsGrams: [62],
    });
    expect(result.misclassificationProbability).toBeCloseTo(0.002924765, 8);
    expect(result.canProveCount).toBe(false);
    expect(result.verdict).toBe('cannot-prove');
    expect(result.likelihood).toBe('normal');
    expect(result.largestProvableCount).toEqual({ atRiskOneInThousand: 0, atRiskOneInMillion: 0 });
  });

  it('uses the exact probability of a rounded reading where the division is coarse', () => {
    const coarse = {
      ...tube,
      pieceStandardDeviationGrams: 0.01,
      lotStandardDeviationGrams: 0,
      referencePieces: 1000,
      gainRelative: 0,
      tareStandardDeviationGrams: 0,
      repeatabilityGrams: 0.1,
      divisionGrams: 1,
      netReadingsGrams: [622],
    };
    expect(countByWeight(coarse).likelihood).toBe('rounded');
    expect(countByWeight(coarse).verdict).toBe('proved');
    expect(countByWeight({ ...coarse, netReadingsGrams: [591, 591] }).verdict).toBe('differs');
    expect(countByWeight({ ...coarse, repeatabilityGrams: 0.3 }).likelihood).toBe('normal');
  });

  it('a stated uncertainty of the mean takes the place of the computed one', () => {
    const computed = weigh(622).standardUncertaintyGrams;
    const stated = { ...tube, referenceMeanStandardUncertaintyGrams: 0.05 / Math.sqrt(50) };
    expect(countByWeight(stated).standardUncertaintyGrams).toBe(computed);
    const worse = { ...tube, referenceMeanStandardUncertaintyGrams: 0.05 };
    expect(countByWeight(worse).standardUncertaintyGrams).toBeGreaterThan(computed);
  });

  it('a single booked piece, an empty pan and an absurd reading have answers', () => {
    const single = countByWeight({ ...tube, nominalPieces: 1, netReadingsGrams: [31.1] });
    expect(single.posterior.map((entry) => entry.pieces)).toEqual([0, 1, 2]);
    expect(single.verdict).toBe('proved');
    expect(weigh(0).verdict).toBe('weigh-again');
    expect(weigh(1e9).probabilityBadWeighing).toBe(1);
  });

  it.each([
    ['nominalPieces', 0, 'a whole number from 1 to 100000 pieces'],
    ['nominalPieces', 20.5, 'a whole number from 1 to 100000 pieces'],
    ['pieceMassGrams', Number.NaN, 'a mass above 0 g'],
    ['pieceStandardDeviationGrams', 0, 'a mass above 0 g'],
    ['readingsTaken', 3, '1 or 2'],
    ['netReadingsGrams', [], '1 to 8 net readings'],
    ['badWeighingProbability', 0, 'a probability above 0, at most 0.25'],
    ['priorMiscountProbability', 0.5, 'a probability above 0, at most 0.25'],
  ])('refuses %s %j and says what is accepted', (field, value, accepted) => {
    const result = runCalculation(calculation, { ...tube, [field]: value });
    expect(result).toMatchObject({ outcome: 'refused', problems: [{ field, value, accepted }] });
  });

  it('draws the posterior and the accept window', () => {
    const output = countByWeight(tube);
    const [chart, rule] = countByWeightCalculation.draw?.(tube, output) ?? [];
    expect(chart).toMatchObject({ kind: 'chart', series: [{ kind: 'bars', x: [19, 20, 21] }] });
    expect(rule).toMatchObject({
      kind: 'limit-rule',
      value: 590.8,
      lowerLimit: output.warnWindowGrams.lower,
      upperLimit: output.warnWindowGrams.upper,
    });
  });
});

describe('the parts of counting by weight', () => {
  it('give the examples of their documentation', () => {
    expect(misclassificationProbability(3.11, 0.5225948288)).toBeCloseTo(0.002924765, 8);
    expect(countPrior(20, 2e-4, { below: 1, above: 1 })).toEqual([
      { pieces: 19, probability: 2e-4 },
      { pieces: 20, probability: 0.9996 },
      { pieces: 21, probability: 2e-4 },
    ]);
    expect(
      nestedSample([
        [1, 3],
        [5, 7],
      ]).meanSquareBetween,
    ).toBe(16);
    expect(shouldStopLine([0.1, 3.4, -0.2, 3.1])).toBe(true);
  });

  it('the line stops for two warns of one sign in ten tubes only', () => {
    expect(shouldStopLine([3.4, -3.4, 0])).toBe(false);
    expect(shouldStopLine([-3.1, 0, -3.2])).toBe(true);
    expect(shouldStopLine([3.4, 3.1, 0, 0, 0, 0, 0, 0, 0, 0, 0])).toBe(false);
    expect(shouldStopLine([])).toBe(false);
  });

  it('refuse what they cannot answer', () => {
    expect(() => misclassificationProbability(0, 1)).toThrow('pieceMassGrams is 0');
    expect(() => nestedSample([[1, 2]])).toThrow('at least 2 lots');
    expect(() => countPrior(20, 0.3, { below: 1, above: 1 })).toThrow('at most 0.25');
    const model = { ...tube, pieceStandardDeviationGrams: 0, lotStandardDeviationGrams: 0 };
    const rigid = { ...model, referenceMeanStandardUncertaintyGrams: 0, gainRelative: 0 };
    expect(() => largestProvableCount(rigid, 1e-3)).toThrow('no two pieces are equal');
    const evidence = {
      netReadingsGrams: [622],
      prior: [{ pieces: 20, probability: 0.5 }],
      nominalPieces: 20,
      pieceMassGrams: 31.1,
      standardUncertaintyGrams: 0.5,
      badWeighingProbability: 0.001,
      badWeighingSpreadGrams: 20,
    };
    expect(() => countPosterior(evidence)).toThrow('probabilities that sum to 1');
  });
});

describe('boxAgainstTubes', () => {
  const weighing = {
    tubeRepeatabilityGrams: 0.05,
    tubeDivisionGrams: 0.1,
    boxTareStandardDeviationGrams: 0.2,
    boxRepeatabilityGrams: 0.5,
    boxDivisionGrams: 1,
    gainRelativeEachScale: 5e-5,
  };
  const box = {
    tubeGrossGrams: new Array<number>(25).fill(640),
    boxGrossGrams: 16_400,
    boxTareGrams: 400,
    pieceMassGrams: 31.1,
    weighing,
  };

  it('a box that weighs what its tubes weighed is unchanged', () => {
    expect(boxAgainstTubes(box)).toMatchObject({
      differenceGrams: 0,
      differencePieces: 0,
      verdict: 'unchanged',
    });
  });

  it('a piece that left between the two weighings is seen', () => {
    const result = boxAgainstTubes({ ...box, boxGrossGrams: 16_369 });
    expect(result).toMatchObject({
      differenceGrams: -31,
      differencePieces: -1,
      verdict: 'changed',
    });
  });

  it('a difference that is neither nothing nor half a piece is weighed again', () => {
    expect(boxAgainstTubes({ ...box, boxGrossGrams: 16_408 }).verdict).toBe('weigh-again');
  });

  it('a box that cannot tell one piece says so', () => {
    const result = boxAgainstTubes({ ...box, pieceMassGrams: 3.11 });
    expect(result.verdict).toBe('cannot-prove');
    expect(result.misclassificationProbability).toBeGreaterThan(1e-3);
  });
});

describe('compareSiblings', () => {
  const bins = [9.4, 10.1, -20.6, 10.5].map((deviationGrams) => ({
    pieces: 500,
    deviationGrams,
    standardUncertaintyGrams: 1.3,
  }));

  it('the odd bin stands out, and with robust weights its siblings do not', () => {
    const plain = compareSiblings(bins, { sharedPerPieceGrams: 0.02 });
    expect(plain[2]?.standardizedResidual).toBeCloseTo(-20.36, 2);
    // Six to seven for good bins without weights: the odd one drags the fit.
    expect(plain[0]?.standardizedResidual).toBeGreaterThan(6);
    const robust = compareSiblings(bins, {
      sharedPerPieceGrams: 0.02,
      odd: { probability: 1e-3, spreadGrams: 31.1 },
    });
    expect(robust[2]?.standardizedResidual).toBeLessThan(-20);
    for (const index of [0, 1, 3]) {
      expect(Math.abs(robust[index]?.standardizedResidual ?? 9)).toBeLessThan(1);
    }
  });

  it('needs siblings', () => {
    expect(() => compareSiblings(bins.slice(0, 1), { sharedPerPieceGrams: 0.02 })).toThrow(
      'at least 2 containers',
    );
  });
});
