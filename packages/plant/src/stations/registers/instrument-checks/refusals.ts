import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of intermediate checks; a stopped instrument is refused at every station. */
export const instrumentCheckRefusals = {
  InstrumentStopped: {
    meaning: 'The instrument failed its last check and is stopped.',
    nextStep: 'Use another instrument, or let this one pass a check or be calibrated first.',
  },
  CheckUnfit: {
    meaning: 'A balance is checked with weights, any other instrument with values.',
    nextStep: 'Record the check in the form for this kind of instrument.',
  },
} satisfies RefusalMeanings;
