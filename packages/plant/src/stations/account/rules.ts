import { closeShift } from './close-shift.ts';
import { explainDifference } from './explain-difference.ts';
import { signDifference } from './sign-difference.ts';
import { tallyPlace } from './tally-place.ts';

/** The commands of the account. */
export const accountCommands = [tallyPlace, closeShift, signDifference, explainDifference] as const;
