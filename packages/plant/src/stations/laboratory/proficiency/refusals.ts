import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of comparisons of laboratories. */
export const proficiencyRefusals = {
  RoundAlreadyRecorded: {
    meaning: 'A round of that name has been recorded; a name is used once.',
    nextStep: 'Give the round a name of its own.',
  },
  RoundNotYetReported: {
    meaning: 'The report of the round would bear a day that has not come.',
    nextStep: 'Read the day on the report again.',
  },
  ParticipantsMissing: {
    meaning: 'A value is to be drawn from the results of the participants, and there are too few.',
    nextStep: 'Enter the results of the other participants, or the value that the report gives.',
  },
  RoundNotJudged: {
    meaning: 'The figures of the round contradict one another, so that it cannot be judged.',
    nextStep: 'Compare the figures with the report of the round.',
  },
  UnitDiffers: {
    meaning: 'Earlier rounds of the same characteristic were in another unit.',
    nextStep: 'Enter the figures in that unit, or name the characteristic otherwise.',
  },
  RoundUnknown: {
    meaning: 'No round of that name has been recorded.',
    nextStep: 'Choose one from the list of rounds.',
  },
  RoundWithoutSignal: {
    meaning: 'The round has no signal that waits for an answer.',
    nextStep: 'Nothing needs to be done.',
  },
} satisfies RefusalMeanings;
