import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of the register of reference materials. */
export const referenceMaterialRefusals = {
  ReferenceMaterialAlreadyReceived: {
    meaning: 'The id belongs to a reference material of the register.',
    nextStep: 'Give the new bottle an id of its own.',
  },
  ReferenceMaterialUnknown: {
    meaning: 'The reference material is not in the register.',
    nextStep: 'Scan its label once more, or receive it with its certificate first.',
  },
  ReferenceMaterialRetired: {
    meaning: 'The reference material has been taken out of use.',
    nextStep: 'Use another bottle of its kind.',
  },
} satisfies RefusalMeanings;
