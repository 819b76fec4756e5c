import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of the press room. */
export const pressRoomRefusals = {
  MeltUnknown: {
    meaning: 'No consignment brought a melt of that name.',
    nextStep: 'Scan the label of the drum again.',
  },
  MeltDiffers: {
    meaning: 'The melt named is not the one that the run strikes.',
    nextStep: 'Scan the label of the tray again.',
  },
  MeltNotReleased: {
    meaning: 'The melt has no ruling that lets it be struck.',
    nextStep: 'Ask the chief assayer for a ruling on the melt.',
  },
  MeltOnHold: {
    meaning: 'A fault of the metal was seen, and the whole melt is held.',
    nextStep: 'Ask the chief assayer for a ruling on the hold.',
  },
  MeltNotTaken: {
    meaning: 'No blanks of the melt have come to the press room.',
    nextStep: 'Take blanks of the melt first.',
  },
  InstrumentUnfit: {
    meaning: 'The instrument is not registered, or it is of a kind that cannot give this reading.',
    nextStep: 'Scan the instrument that gave the reading.',
  },
  CalibrationOverdue: {
    meaning: 'The calibration of the instrument has run out.',
    nextStep: 'Use another instrument, or have this one calibrated and recorded.',
  },
  PiecesDoNotFitMass: {
    meaning:
      'No piece within the limits of its standard would give this mass with this number of pieces.',
    nextStep: 'Count and weigh again, and look for a digit that was exchanged.',
  },
  RunAlreadyOpened: {
    meaning: 'A run of that name is in the books.',
    nextStep: 'Give the run a name that was not used before.',
  },
  RunUnknown: {
    meaning: 'No run of that name was opened.',
    nextStep: 'Choose a run from the list of the press room.',
  },
  RunAlreadyClosed: {
    meaning: 'The run is closed, and its dies are out of the press.',
    nextStep: 'Open a new run.',
  },
  PressUnknown: {
    meaning: 'No press of that name is registered.',
    nextStep: 'Scan the plate of the press, or let the chief assayer register it.',
  },
  PressOccupied: {
    meaning: 'Another run is open in the press.',
    nextStep: 'Close that run first.',
  },
  DieUnknown: {
    meaning: 'No die or collar of that name was received.',
    nextStep: 'Scan the die again, or receive it first.',
  },
  DieDoesNotFit: {
    meaning: 'The die is another part, or belongs to another piece standard.',
    nextStep: 'Take a die of this part and piece standard.',
  },
  DieInUse: {
    meaning: 'The die is in a run that is still open.',
    nextStep: 'Close that run first, or take another die.',
  },
  StrikeOutOfOrder: {
    meaning: 'A strike of that number or a later one of the run was examined before.',
    nextStep: 'Read the counter of the press and give the strokes since the run began.',
  },
  StrikeBeyondBlanks: {
    meaning: 'The strike lies far beyond what a press makes of the blanks that came.',
    nextStep:
      'Give the counter less what it showed when the run began, without a digit too many; take blanks that lie here unrecorded.',
  },
  FirstStrikeNotApproved: {
    meaning: 'The run has no approved first strike.',
    nextStep: 'Examine a first strike and approve it before the run goes on.',
  },
  FirstStrikeAlreadyApproved: {
    meaning: 'The run has an approved first strike already.',
    nextStep: 'Record the strike as a roving or a last one.',
  },
  StrikeOutsideLimits: {
    meaning: 'A strike was called approved although a reading lies outside the limits.',
    nextStep: 'Measure again; if the reading stands, record the strike as a fault.',
  },
  PhotographsMissing: {
    meaning:
      'A first or last strike was called approved without photographs of both faces and the edge.',
    nextStep: 'Take the photographs that are missing and record the strike again.',
  },
  PhotographTwice: {
    meaning: 'The same photograph stands for two faces of the strike, or twice for one.',
    nextStep: 'Take the photograph of that face, or leave the second one away.',
  },
  LastStrikeMissing: {
    meaning: 'The run has no last strike, or pieces were struck after it.',
    nextStep: 'Examine the last piece struck and record it as the last strike.',
  },
  CounterDoesNotFit: {
    meaning: 'The counter of the press and the strikes examined contradict each other.',
    nextStep: 'Read the counter of the press again.',
  },
  RunOnHold: {
    meaning: 'A hold covers pieces of the run.',
    nextStep: 'Ask the chief assayer for a ruling on the hold.',
  },
  PiecesNotJudged: {
    meaning:
      'More pieces would leave than stand before an approved strike and are not ruled to be scrap.',
    nextStep: 'Examine a roving or last strike first, then deliver the pieces before it.',
  },
  HoldUnknown: {
    meaning: 'No hold of that name was opened.',
    nextStep: 'Choose a hold from the docket.',
  },
  HoldAlreadyResolved: {
    meaning: 'The hold has its ruling.',
    nextStep: 'Read the ruling; a new fault opens a new hold.',
  },
} as const satisfies RefusalMeanings;
