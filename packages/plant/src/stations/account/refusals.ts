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
  PeriodClosed: {
    meaning: 'The shift lies in a day or month that is closed; nothing is booked into it any more.',
    nextStep:
      'Record what was forgotten in the present shift, and a correction that names the old entry.',
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
  MeltUnknown: {
    meaning: 'No entry speaks of the melt that is named.',
    nextStep: 'Check the melt; leave it empty where nobody knows it.',
  },
  MeltHoldsFewer: {
    meaning: 'Of the melt that is named fewer pieces lie at the place than would be signed for.',
    nextStep: 'Name a melt of which enough lies there; leave it empty where nobody knows it.',
  },
  GramsExceedBook: {
    meaning: 'More grams would be taken from the place than the postings say lie there.',
    nextStep: 'Check the melt and the mass.',
  },
  NoMeltHoldsSoMuch: {
    meaning:
      'No melt is named, and none of those that lie at the place holds so much metal by itself.',
    nextStep: 'Sign the difference in parts, each for the melt that it is taken from.',
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
  PeriodAlreadyClosed: {
    meaning: 'The day or month is closed; a period is never closed twice.',
    nextStep: 'Record a correction of the closed period where one is due.',
  },
  PeriodNotOver: {
    meaning: 'The day or month still runs, or has not begun.',
    nextStep: 'Close it when its last shift is over and closed.',
  },
  ShiftStillOpen: {
    meaning: 'Metal moved in a shift of the period, and no close covers the move.',
    nextStep: 'Close the shift first.',
  },
  DayStillOpen: {
    meaning: 'A day of the month is not closed.',
    nextStep: 'Close the day first.',
  },
  PeriodWithoutWork: {
    meaning: 'No shift of the period has been closed.',
    nextStep: 'Choose a period from the list of the account.',
  },
  PeriodNotClosed: {
    meaning: 'A correction names a period that is not closed.',
    nextStep: 'Record what was forgotten; an open period needs no correction of its own.',
  },
  EntryOutsidePeriod: {
    meaning: 'A correction names an entry that the period does not cover.',
    nextStep: 'Name the entry that was wrong, or the period that covers it.',
  },
  HandedOverAlready: {
    meaning: 'The shift has been handed over; a handover is never made twice.',
    nextStep: 'Tell the crew that arrived what was forgotten.',
  },
  ShiftNotLeaving: {
    meaning: 'The shift is neither the present one nor the one before it.',
    nextStep: 'Hand over the present shift, or the one before it.',
  },
  DriftNotSignalled: {
    meaning: 'The sums of the place do not signal a drift, or it has been answered.',
    nextStep: 'Read the history of the place; answer only what signals.',
  },
} satisfies RefusalMeanings;
