import type { RefusalMeanings } from '../../journal/refusal.ts';
import { differenceRefusals } from './difference/refusals.ts';
import { documentRefusals } from './documents/refusals.ts';
import { furtherRefusals } from './further/refusals.ts';
import { pickRefusals } from './pick-refusals.ts';
import { portionRefusals } from './portions/refusals.ts';
import { variablesRefusals } from './variables/refusals.ts';

/** The refusals of receiving. Where several apply, the one that stands first here is given first. */
export const receivingRefusals = {
  SupplierUnknown: {
    meaning: 'The supplier is not in the register.',
    nextStep: 'Choose a registered supplier, or let the chief assayer register this one.',
  },
  SupplierNotApproved: {
    meaning: 'The approval of the supplier has run out.',
    nextStep: 'Leave the drums closed and let the chief assayer decide on the supplier.',
  },
  PieceStandardUnknown: {
    meaning: 'The piece standard is not in the register.',
    nextStep: 'Choose a registered piece standard, or let the chief assayer register this one.',
  },
  ConsignmentAlreadyAnnounced: {
    meaning: 'The id belongs to a consignment that has been announced.',
    nextStep: 'Look that consignment up, or give this one another id.',
  },
  MeltAlreadyAnnounced: {
    meaning: 'The melt has come with an earlier consignment.',
    nextStep: 'Read the melt number on the document again; a melt comes under one id once.',
  },
  DrumAlreadyAnnounced: {
    meaning: 'The id belongs to a drum that has been announced.',
    nextStep: 'Read the label of the drum again, or give the drum a new label.',
  },
  SealAlreadyUsed: {
    meaning: 'The seal number has been on another drum; a seal is used once.',
    nextStep: 'Read the seal again; if it is right, leave the drum closed and tell the supplier.',
  },
  ListMappingNotConfirmed: {
    meaning: "Nobody has confirmed that the supplier's lists are read as this one was.",
    nextStep: 'Look at what the columns are taken for, confirm it, and announce again.',
  },
  PackingListAlreadyTaken: {
    meaning: 'The same file has announced another consignment.',
    nextStep: 'Look that consignment up, or choose the file of this one.',
  },
  LineTakenAndSetAside: {
    meaning: 'A line of the list is both taken and set aside.',
    nextStep: 'Take the line or set it aside.',
  },
  RowsDiffer: {
    meaning: 'The lines of the file are not those of the drums announced.',
    nextStep: 'Read the file again, and announce what it says.',
  },
  MeltTooSmall: {
    meaning: 'The melt has fewer pieces than its sample needs.',
    nextStep: 'Check the pieces on the document; if they are right, send the drums back.',
  },
  ConsignmentUnknown: {
    meaning: 'No consignment of this id has been announced.',
    nextStep: 'Announce the consignment first.',
  },
  DrumUnknown: {
    meaning: 'No drum of this id has been announced.',
    nextStep: 'Scan the label of the drum again, or announce its consignment first.',
  },
  MeltUnknown: {
    meaning: 'No melt of this id has been announced.',
    nextStep: 'Read the melt number again.',
  },
  DrumStateUnfit: {
    meaning: 'The drum is in a state in which this is not done.',
    nextStep: 'Look at the consignment for what is next with this drum.',
  },
  SealDiffers: {
    meaning: 'The seal on the drum is not the seal of the document.',
    nextStep: 'Leave the drum closed and stop it, with a second person.',
  },
  InstrumentUnknown: {
    meaning: 'The balance is not in the register, or is no balance.',
    nextStep: 'Scan the label of the balance.',
  },
  CalibrationOverdue: {
    meaning: 'The calibration of the balance has run out.',
    nextStep: 'Weigh on another balance, or let this one be calibrated first.',
  },
  TareAboveGross: {
    meaning: 'The tare is not less than the gross mass.',
    nextStep: 'Check which reading is which, and weigh again.',
  },
  MassImplausible: {
    meaning: 'The mass is less than half, or more than twice, what so many pieces weigh.',
    nextStep: 'Check the unit, the digits and the pieces, and weigh again.',
  },
  CountUnborne: {
    meaning:
      'The count by hand is borne out by neither the document nor the weight of the drum, each with its own room.',
    nextStep: 'Count the drum once more; if the count stands, say why you are sure of it.',
  },
  CountImplausible: {
    meaning: 'The count by hand is less than half, or more than twice, of document and weight.',
    nextStep:
      'Check the digits and count again; if other pieces lie in the drum, stop it and let it go back.',
  },
  MassOfAnotherCount: {
    meaning: 'The blanks weigh another mass than so many pieces of their drums.',
    nextStep: 'Count the blanks, check the digits, and weigh them together again.',
  },
  SamplesAlreadyOrdered: {
    meaning: 'The samples of the consignment have been ordered, and its drums stay as they are.',
    nextStep: 'Draw the samples; a melt that must go back goes through the ruling on it.',
  },
  DrumsNotSettled: {
    meaning: 'A drum of the consignment is not counted yet, or is stopped.',
    nextStep: 'Weigh, tally, admit or send back the drums named.',
  },
  NothingToSample: {
    meaning: 'Every drum of the consignment has gone back.',
    nextStep: 'Nothing is left to do with this consignment.',
  },
  InspectionDiscontinued: {
    meaning: 'Too many lots of this supplier and piece standard were not accepted when tightened.',
    nextStep:
      'Order nothing until the supplier has corrected the cause; then the chief assayer resumes inspection.',
  },
  InspectionNotDiscontinued: {
    meaning: 'The inspection of this supplier and piece standard goes on already.',
    nextStep: 'Order the samples; nothing has to be resumed.',
  },
  SamplesNotOrdered: {
    meaning: 'No sample of the melt has been ordered.',
    nextStep: 'Order the samples of the consignment first.',
  },
  SampleAlreadyDrawn: {
    meaning: 'The sample of the melt has been drawn.',
    nextStep: 'Go on in the laboratory.',
  },
  ...pickRefusals,
  ...differenceRefusals,
  ...documentRefusals,
  ...portionRefusals,
  ...furtherRefusals,
  ...variablesRefusals,
} satisfies RefusalMeanings;
