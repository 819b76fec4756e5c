import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of worksheets that come back as files. */
export const exchangeRefusals = {
  LineTakenAndAside: {
    meaning: 'A line of the file is both taken and set aside.',
    nextStep: 'Read the file again and set the line aside or take it.',
  },
  WorksheetAlreadyTaken: {
    meaning: 'The same file has been taken already.',
    nextStep: 'Bring another file, or look at what was taken from this one.',
  },
  WorksheetRowsDiffer: {
    meaning: 'The rows of the file are others than those that would be recorded.',
    nextStep: 'Read the file again; what is recorded stands in it row by row.',
  },
} satisfies RefusalMeanings;
