import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of the account. Where several apply, the one that stands first here is given first. */
export const accountRefusals = {
  PieceStandardUnknown: {
    meaning: 'The piece standard is not in the register.',
    nextStep: 'Choose a registered piece standard, or let the chief assayer register this one.',
  },
  PieceStandardRepeated: {
    meaning: 'A tally has two lines for the same piece standard.',
    nextStep: 'Add the two lines together and send one.',
  },
  InstrumentUnknown: {
    meaning: 'The balance is not in the register, or is no balance.',
    nextStep: 'Scan the label of the balance that weighed the metal.',
  },
  InstrumentNotStated: {
    meaning: 'A mass is given without the balance that weighed it.',
    nextStep: 'Scan the label of the balance that weighed the metal.',
  },
  CalibrationOverdue: {
    meaning: 'The calibration of the balance has run out.',
    nextStep: 'Weigh on another balance, or let this one be calibrated first.',
  },
  ShiftAlreadyClosed: {
    meaning: 'The shift is closed; a close is never made twice.',
    nextStep: 'Record what was forgotten in the present shift, with a correction where one is due.',
  },
  ShiftWithoutWork: {
    meaning: 'The shift is not the present one, and no metal has moved in it since the last close.',
    nextStep: 'Choose the present shift, or one that the account lists as open.',
  },
  TallyMissing: {
    meaning: 'A place that holds metal, or moved some, has not been tallied since the last close.',
    nextStep: 'Let somebody count and weigh what lies at the place.',
  },
  TallyOutdated: {
    meaning: 'Metal of the shift moved at the place after its tally.',
    nextStep: 'Tally the place once more.',
  },
  PiecesDiffer: {
    meaning: 'The pieces found at a place are not those that the postings say.',
    nextStep:
      'Count again; record the move that is missing; or let the chief assayer sign the difference.',
  },
  DifferenceNotFound: {
    meaning: 'The newest tally of the place shows no such difference.',
    nextStep: 'Tally the place; sign only what the tally shows.',
  },
  DifferenceExceeded: {
    meaning: 'More pieces would be signed off than the newest tally shows as differing.',
    nextStep: 'Sign no more pieces than the tally shows.',
  },
  GramsExceedBook: {
    meaning: 'More grams would be taken from the place than the postings say lie there.',
    nextStep: 'Check the melt and the mass.',
  },
  DifferenceUnknown: {
    meaning: 'There is no signed difference of that name.',
    nextStep: 'Choose one from the list of differences.',
  },
  DifferenceResolved: {
    meaning: 'The difference has been explained already.',
    nextStep: 'Read its explanation in the list of differences.',
  },
  OutcomeUnfit: {
    meaning: 'A difference of grams only was never posted, so nothing can be put back.',
    nextStep: 'Explain it, without putting metal back.',
  },
} satisfies RefusalMeanings;
