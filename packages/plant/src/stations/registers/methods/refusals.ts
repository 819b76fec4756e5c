import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of the register of methods. */
export const methodRefusals = {
  CalculationUnknown: {
    meaning: 'The method names a calculation that the plant does not have.',
    nextStep: 'Choose one from the list of calculations.',
  },
  MethodIsAnother: {
    meaning: 'The id belongs to a method for another metal or another way of assay.',
    nextStep: 'State the method under an id of its own.',
  },
  MethodScopesOverlap: {
    meaning:
      'Two methods of the same metal and way of assay would both hold for the same fineness.',
    nextStep: 'State a new edition of the other method, or choose a scope beside it.',
  },
} satisfies RefusalMeanings;
