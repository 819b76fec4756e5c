import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of inspection by variables. */
export const variablesRefusals = {
  VariablesNotPossible: {
    meaning: 'The lot cannot be inspected by variables, or nothing would be gained by it.',
    nextStep: 'Order the samples by attributes.',
  },
} satisfies RefusalMeanings;
