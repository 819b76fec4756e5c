import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of the registers. */
export const registersRefusals = {
  PlantAlreadyFounded: {
    meaning: 'The journal belongs to a plant that has been founded.',
    nextStep: 'Sign in as a person of the plant.',
  },
  PersonAlreadyEnrolled: {
    meaning: 'The id belongs to a person of the register, who may have left.',
    nextStep: 'Choose another id, or change the person who has it.',
  },
  PersonNotEnrolled: {
    meaning: 'No person of the register has this id.',
    nextStep: 'Enrol the person first.',
  },
  LastChiefAssayer: {
    meaning: 'The change would leave the plant without a chief assayer.',
    nextStep: 'Give another person the role of chief assayer first.',
  },
  PieceStandardAlreadyRegistered: {
    meaning: 'The id belongs to a registered piece standard, whose figures are never changed.',
    nextStep: 'Register the changed kind of piece under a new id.',
  },
  PieceStandardUnknown: {
    meaning: 'The piece standard is not in the register.',
    nextStep: 'Choose a registered piece standard, or register this one first.',
  },
  FinenessImplausible: {
    meaning:
      'The figure is no fineness in ‰ of this metal, but a percentage, carats or a fraction.',
    nextStep: 'Read the document again and state the fineness in ‰.',
  },
  ImpurityLimitImplausible: {
    meaning:
      'The limit is smaller than any content that is determined, or far beyond what the fineness leaves.',
    nextStep: 'State the limit in mg/kg: 0.01 % are 100 mg/kg.',
  },
  SupplierAlreadyRegistered: {
    meaning: 'The id belongs to a registered supplier.',
    nextStep: 'Change that supplier, or choose another id.',
  },
  SupplierUnknown: {
    meaning: 'The supplier is not in the register.',
    nextStep: 'Register the supplier first.',
  },
  PurchaserAlreadyApproved: {
    meaning: 'The id belongs to a purchaser of the register.',
    nextStep: 'Change that purchaser, or choose another id.',
  },
  PurchaserUnknown: {
    meaning: 'The purchaser is not in the register.',
    nextStep: 'Approve the purchaser first.',
  },
  InstrumentAlreadyRegistered: {
    meaning: 'The id belongs to a registered instrument.',
    nextStep: 'Record a calibration for that instrument, or choose another id.',
  },
  InstrumentUnknown: {
    meaning: 'The instrument is not in the register.',
    nextStep: 'Scan the label of the instrument, or let the chief assayer register it.',
  },
  WeighingFiguresUnfit: {
    meaning:
      'A balance lacks its division, repeatability or gain, or another instrument is given them.',
    nextStep: 'State all three figures for a balance, and none for another instrument.',
  },
  WeighingFiguresImplausible: {
    meaning: 'Division, repeatability or gain of the balance are such as no balance has.',
    nextStep: 'Read the certificate again and state grams; the gain is a relative figure.',
  },
  DieAlreadyReceived: {
    meaning: 'The id belongs to a die or collar that the plant has received.',
    nextStep: 'Read the id on the die again.',
  },
  DayTooFarAhead: {
    meaning:
      'The last day of an approval, an authorisation or a use lies further ahead than is meant.',
    nextStep: 'Read the year again; what lasts longer is extended when its day comes.',
  },
} satisfies RefusalMeanings;
