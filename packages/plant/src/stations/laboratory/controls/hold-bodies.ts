import { z } from 'zod';
import { usedFor } from './books.ts';

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
        /** Empty where no melt was on trial. */
        melt: z.string(),
        /** Null for whatever is neither a run nor a titrant's factor. */
        assayRun: z.string().nullable(),
        /** Left out in older entries: then a run where one is named, else a measurement of blanks. */
        what: z.enum(usedFor).exactOptional(),
      }),
    )
    .min(1),
});

export type HoldAnswered = z.infer<typeof holdAnswered>;

export type AnsweredFor = HoldAnswered['answeredFor'][number];

/** What was answered for, also in the words of older entries. */
export function whatOf({ what, assayRun }: AnsweredFor): NonNullable<AnsweredFor['what']> {
  return what ?? (assayRun === null ? 'measurement of blanks' : 'run');
}
