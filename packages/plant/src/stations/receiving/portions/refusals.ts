import type { RefusalMeanings } from '../../../journal/refusal.ts';
import { reportedRefusals } from './reported/refusals.ts';

/** The refusals of portions. */
export const portionRefusals = {
  AnswerDayPast: {
    meaning: 'The day until which the result of a portion is asked for has passed.',
    nextStep: 'State a day from today on, or none.',
  },
  SampleNotDrawn: {
    meaning: 'The sample of the melt has been ordered and not been drawn.',
    nextStep: 'Draw the sample by its pick list first.',
  },
  PortionUnknown: {
    meaning: 'No portion of this id has been sealed.',
    nextStep: 'Scan the label of the portion again.',
  },
  PortionAlreadySealed: {
    meaning: 'The id belongs to a portion that has been sealed.',
    nextStep: 'Give the portion another label.',
  },
  BlankNotOfSample: {
    meaning: 'The blank is none of those drawn from the melt.',
    nextStep: 'Scan the blank again, or choose the melt that it was drawn from.',
  },
  BlankInPortion: {
    meaning: 'The blank lies in a portion, or left with one.',
    nextStep: 'Take another blank, or open that portion first.',
  },
  BlankNotWhole: {
    meaning: 'The blank was cut, or is no longer in the laboratory.',
    nextStep: 'Take a whole blank, or seal cuttings by their grams.',
  },
  BlankToBeMeasured: {
    meaning: 'The lot is judged by this blank, and it has not been measured.',
    nextStep: 'Measure it first; then seal it.',
  },
  PortionsBeyondLaboratory: {
    meaning: 'The portions weigh more than lies in the laboratory of this melt and is not sealed.',
    nextStep: 'Check the readings and the melt, and weigh again.',
  },
  KeptUntilPast: {
    meaning: 'The day until which the portion is kept has passed.',
    nextStep: 'State a day from today on.',
  },
  PortionStateUnfit: {
    meaning: 'The portion is in a state in which this is not done.',
    nextStep: 'Look at the portion for where it is and what can be done with it.',
  },
  PortionNotForRecipient: {
    meaning: 'The portion was sealed for somebody else.',
    nextStep: 'Send the portion of that party, or one of the reserve.',
  },
  PortionSealDiffers: {
    meaning: 'The seal on the portion is not the one it was given.',
    nextStep: 'Leave it closed and call the chief assayer: what is inside proves nothing any more.',
  },
  PortionNotWhole: {
    meaning: 'The portion holds cuttings, which cannot go back to the blanks of the melt.',
    nextStep: 'Discard it to the scrap when it is no longer kept.',
  },
  PortionStillKept: {
    meaning: 'The day until which the portion is kept has not come.',
    nextStep: 'Keep it until then, or change the day with a reason.',
  },
  PortionInDispute: {
    meaning: 'The melt stands between plant and supplier, and its portions are evidence.',
    nextStep: 'Settle the difference first.',
  },
  ...reportedRefusals,
} satisfies RefusalMeanings;
