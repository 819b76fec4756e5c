import type { RefusalMeanings } from '../../../journal/refusal.ts';

/** The refusals of result files of a spectrometer. */
export const spectrometerRefusals = {
  ResultMappingNotConfirmed: {
    meaning: 'Nobody has confirmed that the files of this spectrometer are read in this way.',
    nextStep: 'Look at what the columns mean and confirm them once.',
  },
  SolutionNotInFile: {
    meaning: 'The table has no sample of that label.',
    nextStep: 'Choose the label as the file has it, or bring the file of these solutions.',
  },
  SolutionAlreadyTaken: {
    meaning: 'The same solution of the same file has been taken for another run.',
    nextStep: 'Leave it out, or bring the file of a further measurement.',
  },
  ResultsDoubtful: {
    meaning:
      'The file itself raises a doubt: drift beyond its limit, or contents above the standards.',
    nextStep: 'Measure again, or say why the run counts all the same.',
  },
  SignalsNotCalibrated: {
    meaning: 'The file has signals, and no content can be found from those of an element.',
    nextStep:
      'State what the calibration standards are known to hold, and bring the file with their signals.',
  },
  DetectionLimitUnknown: {
    meaning:
      'An element was not found, and nobody knows how small a content would have been found.',
    nextStep: 'State its detection limit with the method of the spectrometer and confirm it.',
  },
} satisfies RefusalMeanings;
