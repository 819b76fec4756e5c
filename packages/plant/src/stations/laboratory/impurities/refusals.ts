import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of a melt by the impurity table of its piece standard. */
export const impurityRefusals = {
  ImpuritiesBeyondTable: {
    meaning: 'The content of an element lies beyond the limit of the impurity table.',
    nextStep: 'Refuse the melt, or hold it and settle the difference with the supplier.',
  },
  ImpuritiesUndecided: {
    meaning:
      'An element of the impurity table was not determined, or its content is not known well enough to say on which side of its limit it lies.',
    nextStep:
      'Determine the elements named, with a lower detection limit where it says so, and sign the result anew.',
  },
} satisfies RefusalMeanings;
