import { closeDay, closeMonth } from './close-period.ts';
import { closeShift } from './close-shift.ts';
import { correctPeriod } from './correct-period.ts';
import { explainDifference } from './explain-difference.ts';
import { handOverShift } from './hand-over-shift.ts';
import { resolveDrift } from './resolve-drift.ts';
import { signDifference } from './sign-difference.ts';
import { tallyPlace } from './tally-place.ts';

/** The commands of the account. */
export const accountCommands = [
  tallyPlace,
  closeShift,
  handOverShift,
  closeDay,
  closeMonth,
  correctPeriod,
  signDifference,
  explainDifference,
  resolveDrift,
] as const;
