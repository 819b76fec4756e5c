import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of the controls of a run. */
export const controlRefusals = {
  NoMethodInScope: {
    meaning: 'Methods are stated, but none holds for the fineness that the piece is declared at.',
    nextStep: 'Let the chief assayer state a method, or a new edition, that holds for it.',
  },
  CalculationDiffers: {
    meaning: 'The edition of the method in force asks for another calculation than this run uses.',
    nextStep: 'Let the chief assayer state an edition with the calculation of this run.',
  },
  ControlMissing: {
    meaning: 'The method asks for a reference material or a blank that the run lacks.',
    nextStep: 'Run it beside the portions and record it with them.',
  },
  ReagentMissing: {
    meaning: 'The method asks for a reagent whose lot the run does not name.',
    nextStep: 'Scan the label of the bottle that was used.',
  },
  RunHeld: {
    meaning:
      'A run that the result rests on is in doubt: its lot was condemned, or an instrument behind it failed the next check or was calibrated wrongly.',
    nextStep:
      'Let the chief assayer say that the run stands, or set it aside and make another run.',
  },
  MeasurementHeld: {
    meaning: 'Blanks were measured with an instrument in doubt.',
    nextStep:
      'Measure the blanks again as a correction, or let the chief assayer say that the measurement stands.',
  },
  ExaminationHeld: {
    meaning:
      'Hardness, grain size, edge or a screening of the melt was found with an instrument in doubt.',
    nextStep:
      'Let the chief assayer say that it stands, or set it aside and let the blank be examined again.',
  },
  HoldUnknown: {
    meaning: 'No condemned lot, failed check or wrong calibration has that name.',
    nextStep: 'Open the hold from the list of holds.',
  },
  NotHeld: {
    meaning: 'The result or weighing is not in doubt, or was answered for already.',
    nextStep: 'Choose among those that the page of the hold lists.',
  },
  MeasurementNotSetAside: {
    meaning: 'A measurement of blanks cannot be set aside; a new one takes its place.',
    nextStep: 'Let an inspector correct the measurement, or say that it stands.',
  },
  NotATitrant: {
    meaning: 'The lot is a reagent whose factor is not determined.',
    nextStep: 'Scan the label of the titrant, or receive its lot as a titrant.',
  },
  ReferenceMaterialOfOtherMetal: {
    meaning: 'The reference material is another metal than is needed here.',
    nextStep: 'Take a reference material of that metal.',
  },
  ReferenceMaterialExpired: {
    meaning: 'The certificate of the reference material no longer holds.',
    nextStep: 'Use a bottle whose certificate holds.',
  },
  ReferenceMaterialUsedUp: {
    meaning: 'More of the reference material is said to be used than is left of it.',
    nextStep: 'Check the label and the unit of the mass; else open the next bottle.',
  },
  CertifiedValueMissing: {
    meaning: 'Nothing that the run finds of the reference material is certified for it.',
    nextStep: 'Run a reference material that is certified for what the run finds.',
  },
} satisfies RefusalMeanings;
