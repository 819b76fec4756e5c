import type { CalibrationLineOutput } from '@cupel/calculation';
import type { Calculated } from '../../../journal/calculated.ts';

/** The correlation of found and known contents, from what the line gives. */
export function correlationOf(line: Calculated): number | null {
  const output = line.output as unknown as CalibrationLineOutput;
  const slope = output.coefficients.find(({ power }) => power === 1)?.estimate ?? 0;
  const { determination } = output;
  return determination === null ? null : Math.sign(slope) * Math.sqrt(Math.max(0, determination));
}
