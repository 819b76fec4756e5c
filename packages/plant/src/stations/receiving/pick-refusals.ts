import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of taking the picks of a sample. */
export const pickRefusals = {
  PickUnknown: {
    meaning: 'The blank is none of the picks of this melt.',
    nextStep: 'Scan the code of a pick on the list of this melt.',
  },
  NoPlaceForSubstitute: {
    meaning: 'Every place that is asked for has been drawn already.',
    nextStep:
      'Ask for a substitute from the other drums, or put the blank aside and tell the chief assayer.',
  },
  PicksNotVerified: {
    meaning: 'Picks were not scanned, and no reason is given.',
    nextStep: 'Scan the picks named, or say why they cannot be scanned.',
  },
} satisfies RefusalMeanings;
