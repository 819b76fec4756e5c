import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of a structure examined on a photograph. */
export const structureRefusals = {
  ScaleNotUsable: {
    meaning: 'The scale bar is marked too short to say what a pixel is.',
    nextStep: 'Mark both ends of the scale bar again, or state what a pixel is.',
  },
  PlaceOutsidePicture: {
    meaning: 'A test line or the scale bar leaves the picture.',
    nextStep: 'Draw it again inside of the picture.',
  },
  TestLineTooShort: {
    meaning: 'A test line is too short for any grain to be seen on it.',
    nextStep: 'Draw it across the picture, over as many grains as it can cross.',
  },
} satisfies RefusalMeanings;
