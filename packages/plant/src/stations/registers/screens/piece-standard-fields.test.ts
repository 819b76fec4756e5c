import { describe, expect, it } from 'vitest';
import { pieceStandardSchema } from '../piece-standard.ts';
import { goldPiece } from '../trial-registers.ts';
import {
  draftLike,
  emptyPieceStandard,
  guardFigures,
  metalFigures,
  partsPerMillionOf,
  pieceStandardInput,
} from './piece-standard-fields.ts';

describe('a fineness typed in ‰', () => {
  // 1 ‰ is 1000 parts per million by definition.
  it.each([
    ['999.9', 999_900],
    ['999,9', 999_900],
    ['916.667', 916_667],
    ['1000', 1_000_000],
  ])('%s is %d parts per million', (typed, partsPerMillion) => {
    expect(partsPerMillionOf(typed)).toBe(partsPerMillion);
  });

  it('goes as it stands when it is finer than a part per million', () => {
    expect(partsPerMillionOf('999.99995')).toBe('999.99995');
  });

  it('is nothing while nothing is typed, and no number stays text', () => {
    expect(partsPerMillionOf('')).toBeNull();
    expect(partsPerMillionOf('fine')).toBe('fine');
  });
});

describe('the form of a piece standard', () => {
  it('asks for every figure of the standard', () => {
    const draft = { ...draftLike(goldPiece), pieceStandard: 'other', title: 'Another' };
    const input = pieceStandardInput(draft);
    expect(input).toEqual({ ...goldPiece, pieceStandard: 'other', title: 'Another' });
    expect(pieceStandardSchema.safeParse(input).success).toBe(true);
  });

  it('takes what a standard may leave out, and leaves it out where it is empty', () => {
    const hard = { ...goldPiece, hardnessLeastVickers: 40, hardnessGreatestVickers: 62.5 };
    const draft = { ...draftLike(hard), pieceStandard: 'other', title: 'Another' };
    expect(pieceStandardInput(draft)).toEqual({
      ...hard,
      pieceStandard: 'other',
      title: 'Another',
    });
    const turned = { ...hard, hardnessLeastVickers: 70 };
    expect(pieceStandardSchema.safeParse(turned).success).toBe(false);
  });

  it('reads an impurity table as it is typed, and leaves out a guard factor that is not', () => {
    const { guardFactor: _guardFactor, ...plain } = goldPiece;
    const fine = { ...plain, assayMethod: 'fineness-by-difference' as const };
    const typed = {
      ...draftLike(fine),
      pieceStandard: 'other',
      title: 'Another',
      impurityEdition: 'Plant specification, second edition',
      impurityLimits: 'Ag 50\n\nCu  20.5\n',
    };
    const limits = [
      { element: 'Ag', limitMilligramsPerKilogram: 50 },
      { element: 'Cu', limitMilligramsPerKilogram: 20.5 },
    ];
    const standard = {
      ...fine,
      pieceStandard: 'other',
      title: 'Another',
      impurityTable: { edition: 'Plant specification, second edition', limits },
    };
    expect(pieceStandardInput(typed)).toEqual(standard);
    expect(pieceStandardSchema.parse(standard)).toEqual(standard);
    expect(draftLike(standard).impurityLimits).toBe('Ag 50\nCu 20.5');
  });

  it('is refused at each field while it is empty', () => {
    const found = pieceStandardSchema.safeParse(pieceStandardInput(emptyPieceStandard));
    const fields = new Set(found.error?.issues.map(({ path }) => path.join('.')));
    const optional: readonly string[] = [
      ...[...metalFigures, ...guardFigures].map(({ name }) => name),
      'impurityEdition',
      'impurityLimits',
    ];
    const needed = Object.keys(emptyPieceStandard).filter((name) => !optional.includes(name));
    expect([...fields].sort()).toEqual(needed.sort());
  });
});
