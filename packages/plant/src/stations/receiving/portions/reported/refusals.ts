import type { RefusalMeanings } from '../../../../journal/refusal.ts';

/** The refusals of results that supplier or umpire report, and of their exchange. */
export const reportedRefusals = {
  PortionNotSent: {
    meaning: 'The portion never went to supplier or umpire, so that neither can have assayed it.',
    nextStep: 'Scan the label that the report names, or send the portion first.',
  },
  ReportDayUnfit: {
    meaning: 'The day of the report lies before the sending of the portion, or has not come.',
    nextStep: 'Read the day of the document again.',
  },
  PortionResultAlreadyReported: {
    meaning: 'A result of this portion stands already since it was sent.',
    nextStep: 'Say what is corrected if it was read wrongly; else leave it.',
  },
  PortionResultNotReported: {
    meaning: 'No result of this portion stands that could be corrected.',
    nextStep: 'Leave the correction empty.',
  },
  ExchangeNotOpen: {
    meaning:
      "There is nothing to settle: the plant's own result of the melt is not signed, or its supplier has reported none.",
    nextStep: 'Sign the own result and record what the supplier reports; then settle.',
  },
  ExchangeAlreadySettled: {
    meaning: 'The exchange of assays of the melt is settled, and none of its results has changed.',
    nextStep: 'Look at the settlement; a result that is corrected opens it again.',
  },
  AgreedFinenessOutside: {
    meaning: 'The agreed fineness lies outside everything that anybody found.',
    nextStep: 'State a fineness between the least and the greatest of the results.',
  },
} satisfies RefusalMeanings;
