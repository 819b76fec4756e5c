import { z } from 'zod';

export const holdFindings = ['stands', 'set aside'] as const;

export const holdAnswered = z.strictObject({
  hold: z.string(),
  /** What happened, as it was known then. */
  words: z.string(),
  finding: z.enum(holdFindings),
  reason: z.string(),
  answeredFor: z
    .array(
      z.strictObject({
        entry: z.int().min(1),
        melt: z.string(),
        /** Null for a measurement of blanks. */
        assayRun: z.string().nullable(),
      }),
    )
    .min(1),
});

export type HoldAnswered = z.infer<typeof holdAnswered>;
