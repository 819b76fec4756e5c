import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of the register of reagents. */
export const reagentRefusals = {
  ReagentLotAlreadyReceived: {
    meaning: 'The id belongs to a lot of the register.',
    nextStep: 'Give the new lot an id of its own.',
  },
  ReagentLotUnknown: {
    meaning: 'The lot is not in the register of reagents.',
    nextStep: 'Scan its label once more, or receive it first.',
  },
  ReagentLotCondemned: {
    meaning: 'The lot has been condemned.',
    nextStep: 'Use another lot of the reagent.',
  },
  ReagentLotAlreadyOpen: {
    meaning: 'The lot is open already.',
    nextStep: 'Nothing needs to be done.',
  },
  ReagentLotNotOpen: {
    meaning: 'The lot has not been opened, so that nothing can have been made with it.',
    nextStep: 'Record its opening, or scan the label of the bottle in use.',
  },
  ReagentExpired: {
    meaning: 'The last day of the lot has passed.',
    nextStep: 'Open a lot that has not expired.',
  },
  ExpiryAfterLabel: {
    meaning: 'An opened lot is said to last longer than the day on its label.',
    nextStep: 'State a day not after the one on the label.',
  },
} satisfies RefusalMeanings;
