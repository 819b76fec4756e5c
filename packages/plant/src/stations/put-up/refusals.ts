import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of put-up. */
export const putUpRefusals = {
  DeliveryUnknown: {
    meaning: 'The press room has sent nothing under that number.',
    nextStep: 'Choose one of the deliveries that are in transit.',
  },
  DeliveryAlreadyAccepted: {
    meaning: 'Put-up has taken the delivery over already.',
    nextStep: 'Choose one of the deliveries that are in transit.',
  },
  SenderCannotAccept: {
    meaning: 'The person who sent the pieces cannot sign that they came.',
    nextStep: 'Let another custodian count and accept them.',
  },
  DeliveryDiffers: {
    meaning: 'Another number of pieces came than was sent.',
    nextStep:
      'Count once more, together with the sender. If it stays, leave the delivery in transit: the shift does not close over it.',
  },
  TubeUnknown: {
    meaning: 'No tube of that name was weighed.',
    nextStep: 'Scan the tube again, or weigh it first.',
  },
  TubeAlreadyPacked: {
    meaning: 'The tube lies in a sealed box.',
    nextStep: 'Take a tube that is not packed.',
  },
  TubeStopped: {
    meaning: 'The weighings of the tube showed another count, and it is stopped.',
    nextStep: 'Open the tube with a second person and count the pieces.',
  },
  TubeNotClosed: {
    meaning: 'The tube is open, and nothing is booked as being inside.',
    nextStep: 'Fill the tube, close it and weigh it.',
  },
  TubeNotProved: {
    meaning: 'The weighings of the tube do not prove its count.',
    nextStep: 'Weigh the tube again; open it with a second person if it is stopped.',
  },
  TubeWeighingHeld: {
    meaning:
      'The tube was weighed on a balance that failed its next check, or was calibrated wrongly.',
    nextStep:
      'Let the chief assayer say that the weighing stands; else open the tube and weigh it anew.',
  },
  TubeRepeated: {
    meaning: 'The same tube is named twice for one box.',
    nextStep: 'Scan each tube once.',
  },
  FillingDiffers: {
    meaning: 'The tube is closed with another melt or another number of pieces.',
    nextStep: 'Weigh it as it was filled, or open it with a second person first.',
  },
  MeltUnknown: {
    meaning: 'No consignment brought a melt of that name.',
    nextStep: 'Scan the label of the tray again.',
  },
  MeltOnHold: {
    meaning: 'A hold reaches pieces of the melt that have left the press room.',
    nextStep: 'Ask the chief assayer for a ruling on the hold.',
  },
  PiecesCondemned: {
    meaning: 'Pieces of the melt that lie in put-up were ruled to be scrap and are still there.',
    nextStep: 'Find these pieces and put them to the scrap first.',
  },
  TubeOverfull: {
    meaning: 'More pieces are named than a tube of this piece standard holds.',
    nextStep: 'Count the pieces of the tube again.',
  },
  NotEnoughLoosePieces: {
    meaning: 'Fewer pieces of the melt lie loose in put-up than would be needed.',
    nextStep: 'Let the press room deliver the pieces first, or open a tube.',
  },
  InstrumentUnfit: {
    meaning: 'The instrument is not a registered balance.',
    nextStep: 'Scan the balance that gave the reading.',
  },
  CalibrationOverdue: {
    meaning: 'The calibration of the balance has run out.',
    nextStep: 'Use another balance, or have this one calibrated and recorded.',
  },
  TareNotBelowGross: {
    meaning: 'The tare is as heavy as the gross mass, or heavier.',
    nextStep: 'Weigh the tare and the gross mass again.',
  },
  PiecesDoNotFitMass: {
    meaning:
      'No piece within the limits of its standard would give this mass with this number of pieces.',
    nextStep: 'Count and weigh again, and look for a digit that was exchanged.',
  },
  BoxAlreadyPacked: {
    meaning: 'A box of that name is packed.',
    nextStep: 'Take a box with a name that was not used before.',
  },
  SealAlreadyUsed: {
    meaning: 'The number of the seal stands in the journal; a seal counts once.',
    nextStep: 'Take a new seal.',
  },
  BoxMixesStandards: {
    meaning: 'The tubes hold pieces of different piece standards.',
    nextStep: 'Pack tubes of one piece standard into a box.',
  },
  BoxOverfull: {
    meaning: 'More tubes are named than a box of this piece standard holds.',
    nextStep: 'Pack the tubes that are too many into another box.',
  },
  BoxDiffersFromTubes: {
    meaning: 'The closed box does not weigh what its closed tubes weighed.',
    nextStep:
      'Set the balance to zero and weigh box and tare again; if it stays, open the box and weigh its tubes.',
  },
  BoxNotProvable: {
    meaning: 'This weighing of the box would not show one piece that left or entered.',
    nextStep: 'Weigh the empty box too, or use a finer balance.',
  },
  PiecesNotCondemned: {
    meaning: 'Fewer pieces of the melt in put-up are ruled to be scrap.',
    nextStep: 'Put only condemned pieces to the scrap; others wait for a ruling on a hold.',
  },
} as const satisfies RefusalMeanings;
