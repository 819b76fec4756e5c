import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals that hardness, grain size and edge share. */
export const examinationRefusals = {
  LimitsAlreadySet: {
    meaning: 'The piece standard sets the limits itself; an order cannot set others beside it.',
    nextStep: 'Leave the limits of the order out.',
  },
} satisfies RefusalMeanings;
