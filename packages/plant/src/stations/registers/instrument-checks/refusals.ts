import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of intermediate checks; a stopped instrument is refused at every station. */
export const instrumentCheckRefusals = {
  InstrumentStopped: {
    meaning:
      'The instrument failed its last check, or its calibration is wrong, and it is stopped.',
    nextStep:
      'Use another instrument, or let this one pass a check or be calibrated first; only a calibration heals a wrong one.',
  },
  CalibrationAlreadyDoubted: {
    meaning: 'The present calibration of the instrument was found wrong before.',
    nextStep: 'Let the instrument be calibrated anew; answer for what the doubt holds.',
  },
  CheckLimitWide: {
    meaning: 'The limit of the check is more than ten times what the balance shows by its figures.',
    nextStep: 'Look at the unit and the digits of the limit; if it is meant, say why.',
  },
  CheckUnfit: {
    meaning: 'A balance is checked with weights, any other instrument with values.',
    nextStep: 'Record the check in the form for this kind of instrument.',
  },
} satisfies RefusalMeanings;
