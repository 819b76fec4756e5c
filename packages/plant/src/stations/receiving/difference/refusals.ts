import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of differences with a supplier. */
export const differenceRefusals = {
  DifferenceUnknown: {
    meaning: 'No difference of this number has been raised.',
    nextStep: 'Read the number on the document again.',
  },
  NothingDiffers: {
    meaning: 'The drum or melt does not differ from the document, or is of another consignment.',
    nextStep: 'Raise what the list of this consignment shows as open.',
  },
  DifferenceLineTwice: {
    meaning: 'A drum or melt stands in the command twice.',
    nextStep: 'Name each drum and melt once.',
  },
  DifferenceAlreadyRaised: {
    meaning: 'The difference stands in a document already.',
    nextStep: 'Go on with that document.',
  },
  DifferenceAlreadySettled: {
    meaning: 'The difference has been settled by two people.',
    nextStep: 'Leave it as it is; what differs since is raised anew.',
  },
  DifferenceNotAnswered: {
    meaning: 'The supplier has not answered, so that nothing can be agreed with him.',
    nextStep: 'Record his answer first, or settle every line as withdrawn.',
  },
  SettlementLinesDiffer: {
    meaning: 'The lines that are settled are not those that were raised.',
    nextStep: 'Settle each drum and melt of the document, once.',
  },
  SettlementBeyondClaim: {
    meaning: 'More is agreed than was claimed, or something is agreed for a line withdrawn.',
    nextStep: 'Agree on nothing up to the difference; for a withdrawn line agree on nothing.',
  },
} satisfies RefusalMeanings;
