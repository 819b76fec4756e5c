import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of screenings. */
export const screeningRefusals = {
  ScreeningNotOpen: {
    meaning: 'The melt has no screening that deviates and waits for an answer.',
    nextStep: 'Nothing needs to be done.',
  },
  ScreeningNotAnswered: {
    meaning: 'A screening of the melt deviates, and nobody has said what it means.',
    nextStep: 'Look into it and answer the screening first.',
  },
} satisfies RefusalMeanings;
