import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { readingSchema } from '../../../journal/reading.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';

const calculated = calculatedSchema as unknown as z.ZodType<Calculated>;

/** By what a blank is screened. None of them can show that a blank is good. */
const screeningMeans = ['fluorescence', 'density'] as const;

const screeningFlags = ['deviates', 'no deviation seen', 'cannot tell'] as const;

export const blankScreened = z.strictObject({
  melt: idSchema,
  pieceStandard: z.string(),
  blank: idSchema,
  means: z.enum(screeningMeans),
  instrument: idSchema,
  /** As the balance sent them, in air and in water; null for fluorescence. */
  weighings: z.strictObject({ inAir: readingSchema, inWater: readingSchema }).nullable(),
  /** The density that the weighings give; null for fluorescence. */
  density: calculated.nullable(),
  screen: calculated,
  flag: z.enum(screeningFlags),
  words: z.string(),
});

/** What can be found when a screening that deviates is looked into. */
export const screeningFindings = [
  'assay goes on',
  'fault of the screening',
  'melt is suspect',
] as const;

export const screeningAnswered = z.strictObject({
  melt: idSchema,
  finding: z.enum(screeningFindings),
  reason: reasonSchema,
  /** Entries of the screenings that are answered. */
  screenings: z.array(z.number().int().min(1)).min(1),
});

export type BlankScreenedBody = z.infer<typeof blankScreened>;
export type ScreeningAnsweredBody = z.infer<typeof screeningAnswered>;
