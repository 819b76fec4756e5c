import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { readingSchema } from '../../../journal/reading.ts';
import { defineKind } from '../../../journal/station.ts';
import { findings } from '../examination/books.ts';
import { setLimits } from '../examination/limits.ts';
import { noteExamination } from '../examination/note-examination.ts';

const hardnessMeasured = z.strictObject({
  melt: z.string(),
  blank: z.string(),
  pieceStandard: z.string(),
  instrument: z.string(),
  indentations: z
    .array(
      z.strictObject({
        label: z.string(),
        first: readingSchema,
        second: readingSchema,
        /** Null where the distance was not read. */
        edgeDistance: readingSchema.nullable(),
        neighbourDistance: readingSchema.nullable(),
      }),
    )
    .min(1),
  limits: setLimits.nullable(),
  finding: z.enum(findings),
  /** Hardness of each indentation, and of all together. */
  vickers: calculatedSchema as unknown as z.ZodType<Calculated>,
});

export type HardnessMeasuredBody = z.infer<typeof hardnessMeasured>;

export const HardnessMeasured = defineKind<HardnessMeasuredBody>({
  kind: 'HardnessMeasured',
  version: 1,
  station: 'laboratory',
  meaning:
    'Somebody pressed a diamond into a blank and read the diagonals of its indentations. It never accepts or rejects the melt by itself.',
  body: hardnessMeasured,
  postings: 'moves nothing',
  things: ({ melt, blank, instrument }) => [
    { thing: 'melt', id: melt },
    { thing: 'blank', id: blank },
    { thing: 'instrument', id: instrument },
  ],
  apply: (books, entry) =>
    noteExamination(books, entry, {
      quality: 'hardness',
      words: String(entry.body.vickers.output['words']),
    }),
});
