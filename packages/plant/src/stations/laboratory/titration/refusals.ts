import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of a titration run. */
export const titrationRefusals = {
  EndPointNotFound: {
    meaning: 'The curve shows no end point by the method that was asked for.',
    nextStep:
      'Look at the curve; read it more closely about its jump, take another method, or titrate once more.',
  },
  EndPointNotConfirmed: {
    meaning: 'Another volume was taken than the end point found on the curve, without a reason.',
    nextStep: 'Confirm the end point found, or say why another point of the curve counts.',
  },
  EndPointOutsideCurve: {
    meaning: 'The end point that was taken lies outside the curve.',
    nextStep: 'Take a point between the first and the last volume of the curve.',
  },
} satisfies RefusalMeanings;
