import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of seals and labels that bear numbers. */
export const itemRefusals = {
  SeriesAlreadyReceived: {
    meaning: 'The name of the series, or one of its numbers, has been received before.',
    nextStep: 'Look at the delivery note: each number is received once, under one series.',
  },
  SeriesUnknown: {
    meaning: 'No series of that name has been received.',
    nextStep: 'Choose one of the series on the page of seals and labels.',
  },
  NumbersOutsideSeries: {
    meaning: 'The numbers do not all belong to the series, or stand in the wrong order.',
    nextStep: 'Give the first and the last number as they stand on the seals or labels.',
  },
  NumbersInUse: {
    meaning: 'One of the numbers is in use, or was spoiled before.',
    nextStep: 'Spoil only what is in your hand and was never used.',
  },
  MoreThanReceived: {
    meaning: 'More seals or labels are said to be left than were ever received in the series.',
    nextStep: 'Count again what bears the numbers of this series alone.',
  },
} as const satisfies RefusalMeanings;
