import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of a supplier's documents. */
export const documentRefusals = {
  CertificateNamesNoMelt: {
    meaning: 'None of the melts of the certificate is in the consignment.',
    nextStep: 'Read the melt numbers again, or attach it to the consignment that it came with.',
  },
  CertificateAlreadyAttached: {
    meaning: 'The same file has been attached to the consignment.',
    nextStep: 'Say what is corrected if its values were read wrongly; else leave it.',
  },
  CertificateNotAwaited: {
    meaning: 'Nobody waits for a certificate of the melt.',
    nextStep: 'Choose among the melts that the page of the certificates names as missing.',
  },
  CompositionBeyondWhole: {
    meaning: 'The contents of a melt add up to more than the whole.',
    nextStep: 'Look at the unit and the digits of the contents.',
  },
} satisfies RefusalMeanings;
