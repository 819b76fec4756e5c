import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of metal that leaves the laboratory. */
export const metalRefusals = {
  NoMetalOfMelt: {
    meaning: 'The book has no metal of this melt in the laboratory.',
    nextStep: 'Scan the melt on the label of the vessel; take the metal to the melt it came from.',
  },
  MoreThanLies: {
    meaning: 'More metal would leave than the book has of the melt in the laboratory.',
    nextStep: 'Weigh again with the tare of the vessel, and look for what was booked out before.',
  },
  FormGoesElsewhere: {
    meaning: 'Metal in this form does not go to that place.',
    nextStep: 'Choose a place that takes this form.',
  },
  BasisMissing: {
    meaning: 'An estimated mass is given without saying how it was estimated.',
    nextStep: 'Say what the estimate rests on, such as volume and content of the solution.',
  },
} as const satisfies RefusalMeanings;
