import type { RefusalMeanings } from '../../journal/refusal.ts';

/** The refusals of the certificate desk. Where several apply, the one that stands first here is given first. */
export const certificateRefusals = {
  PlantNotFounded: {
    meaning: 'The plant has no name yet, and a certificate has to state it.',
    nextStep: 'Found the plant in the registers.',
  },
  CertificateAlreadyIssued: {
    meaning: 'The number belongs to a certificate that was issued; a number is used once.',
    nextStep: 'Choose the next free number.',
  },
  BoxUnknown: {
    meaning: 'No box of that name has been packed and sealed.',
    nextStep: 'Scan the label of the box.',
  },
  BoxRepeated: {
    meaning: 'A box stands in the list twice.',
    nextStep: 'Take one of the two off the list.',
  },
  BoxGone: {
    meaning: 'The box has been dispatched.',
    nextStep: 'Look at the dispatch that took it.',
  },
  BoxAlreadyCertified: {
    meaning: 'A certificate holds for the box.',
    nextStep: 'Use that certificate, or withdraw it first with a reason.',
  },
  PieceStandardsMixed: {
    meaning: 'A certificate is of one piece standard, and the boxes hold several.',
    nextStep: 'Issue one certificate for each piece standard.',
  },
  MeltWithoutResult: {
    meaning: 'A melt in the boxes has no result that is signed and checked.',
    nextStep: 'Let the laboratory sign and check the result of the melt.',
  },
  MeltNotPassed: {
    meaning: 'A melt in the boxes did not pass, or is not released by the ruling that stands.',
    nextStep: 'Hold the boxes and let the chief assayer rule on the melt.',
  },
  HoldOpen: {
    meaning: 'A hold of the press room reaches pieces of a melt in the boxes.',
    nextStep: 'Resolve the hold first.',
  },
  ResultInDoubt: {
    meaning:
      'A result behind a melt of the boxes is in doubt: its lot was condemned, or an instrument failed its next check or was calibrated wrongly.',
    nextStep: 'Answer the hold: say that the result stands, or set it aside and assay again.',
  },
  BoxWeighingInDoubt: {
    meaning: 'The box or one of its tubes was weighed on a balance in doubt.',
    nextStep:
      'Answer the hold on the balance; where its weighing does not stand, pack the box anew.',
  },
  CertificateUnknown: {
    meaning: 'No certificate of that number has been issued.',
    nextStep: 'Scan the code of the certificate.',
  },
  CertificateAlreadyWithdrawn: {
    meaning: 'The certificate has been withdrawn already.',
    nextStep: 'Read the reason with the certificate.',
  },
  ReplacedCertificateStands: {
    meaning: 'The certificate to be replaced still holds.',
    nextStep: 'Withdraw it first, with the reason.',
  },
  DispatchAlreadyRecorded: {
    meaning: 'The number belongs to a dispatch that is recorded; a number is used once.',
    nextStep: 'Choose the next free number.',
  },
  PurchaserNotApproved: {
    meaning: 'The purchaser is not in the register, or the approval has run out.',
    nextStep: 'Let the chief assayer approve the purchaser first.',
  },
  BoxNotCertified: {
    meaning: 'No certificate holds for the box.',
    nextStep: 'Let the chief assayer issue a certificate for the box.',
  },
} satisfies RefusalMeanings;
