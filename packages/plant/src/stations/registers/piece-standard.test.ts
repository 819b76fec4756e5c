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
      'a probability above 0 and below 1',
    ],
  ])('refuses %s', (_what, change, field, accepted) => {
    const parsed = pieceStandardSchema.safeParse({ ...goldPiece, ...change });
    const [issue] = parsed.error?.issues ?? [];
    expect(issue?.path.join('.')).toBe(field);
    expect(issue?.message).toContain(accepted);
  });
});
