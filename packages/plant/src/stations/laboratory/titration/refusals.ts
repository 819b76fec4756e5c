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
  TitreUnknown: {
    meaning: 'No factor of the titrant was determined under that name.',
    nextStep: 'Determine the titre of the lot first, or titrate standards in the run.',
  },
  TitreOfOtherLot: {
    meaning: 'The factor was determined of another lot than the run was titrated with.',
    nextStep: 'Name the determination of this lot, or scan the label of the bottle again.',
  },
  TitreHeld: {
    meaning: 'The factor is in doubt, or was set aside.',
    nextStep:
      'Determine the titre anew, titrate standards in the run, or let the chief assayer answer the hold.',
  },
  TitreTooOld: {
    meaning: 'The factor was determined longer ago than the method allows.',
    nextStep: 'Determine the titre anew, or titrate standards in the run.',
  },
  TitreReplaced: {
    meaning: 'The factor of the lot was determined anew since.',
    nextStep: 'Name the newest determination of the lot.',
  },
} satisfies RefusalMeanings;
