import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of the laboratory. Where several apply, the one that stands first here is given first. */
export const laboratoryRefusals = {
  MeltUnknown: {
    meaning: 'No consignment has announced the melt.',
    nextStep: 'Scan the label of the melt once more, or look for it at receiving.',
  },
  MeltNotSampled: {
    meaning: 'No blanks of the melt have been drawn for the laboratory yet.',
    nextStep: 'Let receiving order and draw the sample first.',
  },
  MeltAlreadyRuled: {
    meaning: 'The chief assayer has ruled on the melt, so its trial is closed.',
    nextStep: 'Read the ruling; if it must change, let the chief assayer rule again.',
  },
  InstrumentUnknown: {
    meaning: 'The instrument is not in the register, or is none of the kind that is needed.',
    nextStep: 'Scan the label of the instrument that gave the readings.',
  },
  CalibrationOverdue: {
    meaning: 'The calibration of the instrument has run out.',
    nextStep: 'Measure on another instrument, or let this one be calibrated first.',
  },
  NotAuthorisedForMethod: {
    meaning: 'The person holds no valid authorisation for the method.',
    nextStep: 'Let an authorised assayer do this, or let the chief assayer authorise the person.',
  },
  MethodDiffers: {
    meaning: 'The piece standard asks for another method of assay.',
    nextStep: 'Record the run under the method that the piece standard names.',
  },
  BlankNotDrawn: {
    meaning: 'The blank is none of those that were drawn from the melt.',
    nextStep: 'Scan the label of a blank that was drawn from this melt.',
  },
  BlankNotForAssay: {
    meaning: 'The draw chose other blanks of the melt for assay; nobody chooses the sample.',
    nextStep:
      'Cut the blanks that were drawn for assay; where they do not decide the melt, ask for further blanks.',
  },
  BlankNamedTwice: {
    meaning: 'The same blank stands twice in one record.',
    nextStep: 'Name each blank once.',
  },
  BlankAlreadyMeasured: {
    meaning: 'The blank has been measured; a second measurement must not replace the first unseen.',
    nextStep: 'Correct the measurement, with the reason, if the first one was wrong.',
  },
  MeasurementImplausible: {
    meaning:
      'A reading lies so far outside the limits of the piece that it cannot be that of the blank.',
    nextStep:
      'Read the instrument again: look at the point, the unit, and whether two readings were exchanged.',
  },
  BlankNotMeasured: {
    meaning: 'The blank has not been measured.',
    nextStep: 'Measure its mass, diameter and thickness first.',
  },
  BlankAlreadyCut: {
    meaning: 'The blank has been cut and is no whole piece any more.',
    nextStep: 'Choose a blank that is whole.',
  },
  BlankNotCut: {
    meaning: 'A portion is said to come from a blank that has not been cut.',
    nextStep: 'Record the cutting first, or name the blank that the portion came from.',
  },
  BlankInPortion: {
    meaning: 'The blank lies sealed in a portion, or left the laboratory with one.',
    nextStep: 'Take another blank, or let the portion be opened by two people first.',
  },
  BlankAlreadyReturned: {
    meaning: 'The blank has gone back to receiving.',
    nextStep: 'Choose a blank that lies in the laboratory.',
  },
  MassNotOfBlanks: {
    meaning:
      'The mass of the blanks differs from the sum of their measured masses by a piece or so.',
    nextStep: 'Count the blanks, compare their ids with the list, and weigh them again.',
  },
  AssayRunAlreadyUsed: {
    meaning: 'A run of that name has been recorded; a name is used once.',
    nextStep: 'Give the run a new name.',
  },
  ReadingsNotAccepted: {
    meaning: 'The readings of the run contradict one another, so that nothing can be computed.',
    nextStep: 'Compare the readings with the worksheet and send the run again.',
  },
  PortionsExceedBlank: {
    meaning: 'The portions of a blank weigh more together than the blank itself.',
    nextStep: 'Check which blank each portion came from, and the units of the masses.',
  },
  TooManyDeterminations: {
    meaning: 'A melt is judged on at most ten determinations.',
    nextStep: 'Sign the result of those there are.',
  },
  DeterminationUnknown: {
    meaning: 'There is no determination of that label in that run.',
    nextStep: 'Choose one from the list of the trial.',
  },
  DeterminationNotValid: {
    meaning: 'The determination does not count already: it was discarded, or its run is void.',
    nextStep: 'Nothing needs to be done; its reason stands beside it.',
  },
  ResultAlreadySigned: {
    meaning: 'The result of the melt is signed and stands.',
    nextStep:
      'Check the result, send it back with a reason, or, if it is undecided, add determinations.',
  },
  DeterminationsMissing: {
    meaning: 'The valid determinations are too few, or differ too much, for a result.',
    nextStep: 'Carry out the further determinations that the rule asks for.',
  },
  BlanksForAssayMissing: {
    meaning: 'The determinations come from fewer blanks than the melt must be judged on.',
    nextStep: 'Cut a further drawn blank and determine its fineness.',
  },
  ResultNotSigned: {
    meaning: 'There is no signed result that could be checked.',
    nextStep: 'Let the assayer sign the result first.',
  },
  ResultAlreadyChecked: {
    meaning: 'The result has been checked.',
    nextStep: 'Let the chief assayer rule on the melt.',
  },
  CheckerTookPart: {
    meaning: 'The person recorded a run of this result or signed it, and cannot check it.',
    nextStep: 'Let an authorised assayer check it who had no part in it.',
  },
  ResultNotChecked: {
    meaning: 'The melt has no result that two assayers stand for.',
    nextStep: 'Let the result be signed and checked first.',
  },
  VerdictNotPasses: {
    meaning:
      'The verdict on the fineness is not that the melt passes; nothing can be conceded there.',
    nextStep: 'Refuse or hold the melt; an undecided one may get further determinations.',
  },
  OutsideMethodScope: {
    meaning: 'The fineness found lies outside the scope of the method.',
    nextStep: 'Hold the melt and let its fineness be found by another method.',
  },
  PhysicalNotAccepted: {
    meaning: 'The drawn blanks are not all measured, or too many of them lie outside their limits.',
    nextStep: 'Measure the rest; where only dimensions are at fault, a concession is possible.',
  },
  ConcessionNotPossible: {
    meaning:
      'A concession covers dimensions only, and only where the blanks were rejected for them.',
    nextStep: 'Refuse the melt, or release it where nothing stands against it.',
  },
  RulingUnchanged: {
    meaning: 'The same ruling stands already.',
    nextStep: 'Nothing needs to be done.',
  },
  MeltNotRefused: {
    meaning: 'Only a melt that the chief assayer has refused goes back to the supplier.',
    nextStep: 'Let the chief assayer rule on the melt.',
  },
  NothingToReturn: {
    meaning: 'No piece of the melt lies at receiving.',
    nextStep: 'Look in the lineage of the melt where its pieces went.',
  },
  ChartUnknown: {
    meaning: 'The laboratory keeps no control chart of that name.',
    nextStep: 'Choose one from the list of control charts; a chart begins with its first run.',
  },
  ChartPointUnknown: {
    meaning: 'The chart has not come to that point.',
    nextStep: 'Open the chart once more and answer what it shows.',
  },
  NoOpenSignal: {
    meaning: 'The chart has no signal that waits for an answer.',
    nextStep: 'Nothing needs to be done; earlier answers stand on the page of the chart.',
  },
} satisfies RefusalMeanings;
