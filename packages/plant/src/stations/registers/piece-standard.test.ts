import { describe, expect, it } from 'vitest';
import { pieceStandardSchema } from './piece-standard.ts';
import { goldPiece } from './trial-registers.ts';

describe('pieceStandardSchema', () => {
  it('accepts a piece whose figures agree', () => {
    expect(pieceStandardSchema.parse(goldPiece)).toEqual(goldPiece);
  });

  it.each([
    [
      'a least mass above the declared one',
      { massLeastMilligrams: 10_001 },
      'massLeastMilligrams',
      'at most massDeclaredMilligrams, which is 10000',
    ],
    [
      'a declared mass above the greatest',
      { massGreatestMilligrams: 9_999 },
      'massDeclaredMilligrams',
      'at most massGreatestMilligrams, which is 9999',
    ],
    [
      'diameters the wrong way round',
      { diameterLeastMillimetres: 27.2 },
      'diameterLeastMillimetres',
      'at most diameterGreatestMillimetres, which is 27.1',
    ],
    [
      'thicknesses the wrong way round',
      { thicknessLeastMillimetres: 2 },
      'thicknessLeastMillimetres',
      'at most thicknessGreatestMillimetres, which is 1.05',
    ],
    [
      'a limit finer than what is declared',
      { finenessLimitPerMille: 999.95 },
      'finenessLimitPerMille',
      'at most the declared fineness, which is 999.9 ‰',
    ],
    [
      'a greatest mass in another unit',
      { massGreatestMilligrams: 100_600 },
      'massGreatestMilligrams',
      'at most twice the least mass, which is 20000',
    ],
    [
      'a greatest diameter with the point in the wrong place',
      { diameterGreatestMillimetres: 271 },
      'diameterGreatestMillimetres',
      'at most twice the least diameter, which is 53.8',
    ],
    [
      'a greatest thickness with the point in the wrong place',
      { thicknessGreatestMillimetres: 10.5 },
      'thicknessGreatestMillimetres',
      'at most twice the least thickness, which is 1.9',
    ],
    [
      'a limit with the point in the wrong place',
      { finenessLimitPerMille: 99.99 },
      'finenessLimitPerMille',
      'at least nine tenths of the declared fineness, which is 899.91 ‰',
    ],
    [
      // 10 g on a disc of 2.7 mm by 1 mm: 10/(π/4 · 0.27² · 0.1) = 1746.556 g/cm³.
      'diameters with the point in the wrong place',
      { diameterLeastMillimetres: 2.69, diameterGreatestMillimetres: 2.71 },
      'massDeclaredMilligrams',
      'a disc of these would have 1746.56 g/cm³, and a metal has 3 to 23',
    ],
    [
      'a deviation of pieces in another unit',
      { pieceStandardDeviationMilligrams: 10_000 },
      'pieceStandardDeviationMilligrams',
      'at most a tenth of the declared mass, which is 1000',
    ],
    [
      'a deviation of lots in another unit',
      { lotStandardDeviationMilligrams: 3000 },
      'lotStandardDeviationMilligrams',
      'at most a tenth of the declared mass',
    ],
    [
      'a tare of tubes in mg',
      { tubeTareGrams: 12_000 },
      'tubeTareGrams',
      'at most ten times the mass of its pieces, which is 2000',
    ],
    [
      'a tare of boxes in mg',
      { boxTareGrams: 400_000 },
      'boxTareGrams',
      'at most ten times the mass of its pieces, which is 50000',
    ],
    [
      'a deviation of the tubes above their tare',
      { tubeTareStandardDeviationGrams: 50 },
      'tubeTareStandardDeviationGrams',
      'at most the tare of the tube, which is 12',
    ],
    [
      'a deviation of the boxes above their tare',
      { boxTareStandardDeviationGrams: 1000 },
      'boxTareStandardDeviationGrams',
      'at most the tare of the box, which is 400',
    ],
    [
      'a spread of wrong weighings in mg',
      { badWeighingSpreadGrams: 20_000 },
      'badWeighingSpreadGrams',
      'at most ten times the mass of the pieces in a tube, which is 2000',
    ],
    [
      'a limit for nonconformities of a hundred pieces together',
      { acceptanceQualityLimitPercent: 65 },
      'acceptanceQualityLimitPercent',
      'at most 10',
    ],
    [
      'a required probability with the point in the wrong place',
      { requiredConformanceProbability: 0.095 },
      'requiredConformanceProbability',
      'a probability from 0.5, below 1',
    ],
    [
      'a duplicate limit in mg/kg',
      { duplicateLimitPerMille: 100 },
      'duplicateLimitPerMille',
      'a difference above 0 ‰, at most 20 ‰',
    ],
    [
      'a limit that no table has',
      { acceptanceQualityLimitPercent: 0.7 },
      'acceptanceQualityLimitPercent',
      'one of 0.01',
    ],
    ['a level that no table has', { inspectionLevel: 'IV' }, 'inspectionLevel', 'one of S-1'],
    [
      'a fineness as text',
      { finenessDeclaredPartsPerMillion: '999900' },
      'finenessDeclaredPartsPerMillion',
      'a whole number of parts per million',
    ],
    [
      'a mass that is no number',
      { massDeclaredMilligrams: Number.NaN },
      'massDeclaredMilligrams',
      'a number of mg above 0',
    ],
    [
      'no deviation of pieces',
      { pieceStandardDeviationMilligrams: 0 },
      'pieceStandardDeviationMilligrams',
      'a number of mg above 0',
    ],
    [
      'half a piece in a tube',
      { piecesPerTube: 20.5 },
      'piecesPerTube',
      'a whole number from 1 to 1000',
    ],
    [
      'a certain miscount',
      { priorMiscountProbability: 1 },
      'priorMiscountProbability',
      'a probability above 0, at most 0.25',
    ],
    [
      'certain conformity',
      { requiredConformanceProbability: 1 },
      'requiredConformanceProbability',
      'a probability from 0.5, below 1',
    ],
  ])('refuses %s', (_what, change, field, accepted) => {
    const parsed = pieceStandardSchema.safeParse({ ...goldPiece, ...change });
    const [issue] = parsed.error?.issues ?? [];
    expect(issue?.path.join('.')).toBe(field);
    expect(issue?.message).toContain(accepted);
  });
});
