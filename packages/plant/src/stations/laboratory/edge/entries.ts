import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { readingSchema } from '../../../journal/reading.ts';
import { defineKind } from '../../../journal/station.ts';
import { findings } from '../examination/books.ts';
import { noteExamination } from '../examination/note-examination.ts';

const edgeMeasured = z.strictObject({
  melt: z.string(),
  blank: z.string(),
  pieceStandard: z.string(),
  instrument: z.string(),
  /** Drawing or order that sets the limits. */
  limitsSetBy: z.string(),
  dimensions: z
    .array(
      z.strictObject({
        label: z.string(),
        readings: z.array(readingSchema).min(1),
        leastMillimetres: z.number().nullable(),
        greatestMillimetres: z.number().nullable(),
      }),
    )
    .min(1),
  finding: z.enum(findings),
  conformity: calculatedSchema as unknown as z.ZodType<Calculated>,
});

export type EdgeMeasuredBody = z.infer<typeof edgeMeasured>;

export const EdgeMeasured = defineKind<EdgeMeasuredBody>({
  kind: 'EdgeMeasured',
  version: 1,
  station: 'laboratory',
  meaning:
    'Somebody gauged the edge of a blank, or other dimensions of it, and held them to the limits of a drawing or order. It never accepts or rejects the melt by itself.',
  body: edgeMeasured,
  postings: 'moves nothing',
  things: ({ melt, blank, instrument }) => [
    { thing: 'melt', id: melt },
    { thing: 'blank', id: blank },
    { thing: 'instrument', id: instrument },
  ],
  apply: (books, entry) =>
    noteExamination(books, entry, {
      quality: 'edge',
      words: String(entry.body.conformity.output['words']),
    }),
});
