import { z } from 'zod';
import { confidenceField, labelField, numberField, outputNumber, wordsField } from './fields.ts';

/**
 * What a screen can say. There is no state for a pass: a screen sees the surface, or one property
 * that other alloys share, and can only raise a doubt.
 */
export const screenFlags = ['deviates', 'no deviation seen', 'cannot tell'] as const;
type ScreenFlag = (typeof screenFlags)[number];

/** Fields that every screen takes. */
export const screenShape = {
  label: labelField('Piece or sample'),
  declaredFinenessPerMille: numberField('a fineness', 1, 1000, '‰').meta({
    title: 'Declared fineness',
    unit: '‰',
  }),
  confidencePercent: confidenceField(),
};

/** Fields that every screen gives. */
export const screenOutputShape = {
  flag: z.enum(screenFlags).meta({
    title: 'Flag',
    description: 'A screen raises doubts; it never shows that a piece is what it should be',
  }),
  deviationInStandardUncertainties: outputNumber('Deviation over its standard uncertainty'),
  words: wordsField(),
};

/** Uncertainty beyond which a screen of this kind says nothing: widest half-interval that is of use. */
export function flagOf(
  deviation: number,
  standardUncertainty: number,
  coverageFactor: number,
  widestUsefulHalfInterval: number,
): { readonly flag: ScreenFlag; readonly ratio: number } {
  const ratio =
    standardUncertainty === 0 ? Math.sign(deviation) * 1e9 : deviation / standardUncertainty;
  if (Math.abs(deviation) > coverageFactor * standardUncertainty)
    return { flag: 'deviates', ratio };
  const isBlunt = coverageFactor * standardUncertainty > widestUsefulHalfInterval;
  return { flag: isBlunt ? 'cannot tell' : 'no deviation seen', ratio };
}

/** Last sentence of every screen. */
export const screenReminder =
  'This is a screen: only an assay by a method within its scope can show the fineness.';
