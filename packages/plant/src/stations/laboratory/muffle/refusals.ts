import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of the places in the muffle. */
export const muffleRefusals = {
  MufflePlacesDoNotFit: {
    meaning: 'The places of the cupels do not fit the run or the muffle.',
    nextStep: 'Give each proof and portion of the run one place of its own.',
  },
} as const satisfies RefusalMeanings;
