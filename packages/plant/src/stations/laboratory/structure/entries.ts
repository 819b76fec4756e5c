import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { defineKind } from '../../../journal/station.ts';
import { findings } from '../examination/books.ts';
import { setLimits } from '../examination/limits.ts';
import { noteExamination } from '../examination/note-examination.ts';
import { markCounts } from './picture-marks.ts';

const point = z.strictObject({ x: z.number(), y: z.number() });

const scale = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('stated'), micrometresPerPixel: z.number() }),
  z.strictObject({
    kind: z.literal('bar'),
    bar: z.strictObject({ from: point, to: point }),
    lengthMicrometres: z.number(),
  }),
]);

const structureExamined = z.strictObject({
  melt: z.string(),
  blank: z.string(),
  pieceStandard: z.string(),
  instrument: z.string(),
  /** Hash of the photograph, which is kept beside the journal. */
  photographSha256: z.string(),
  picture: z.strictObject({ widthPixels: z.number(), heightPixels: z.number() }),
  scale,
  micrometresPerPixel: z.number(),
  /** How the section was made: cut, ground, etched; null where it was not said. */
  preparation: z.string().nullable(),
  lines: z
    .array(
      z.strictObject({
        label: z.string(),
        from: point,
        to: point,
        marks: z.array(
          z.strictObject({
            at: z.number(),
            counts: z.union(markCounts.map((one) => z.literal(one))),
          }),
        ),
      }),
    )
    .min(1),
  limits: setLimits.nullable(),
  finding: z.enum(findings),
  grainSize: calculatedSchema as unknown as z.ZodType<Calculated>,
});

export type StructureExaminedBody = z.infer<typeof structureExamined>;

export const StructureExamined = defineKind<StructureExaminedBody>({
  kind: 'StructureExamined',
  version: 1,
  station: 'laboratory',
  meaning:
    'Somebody photographed the section of a blank, laid test lines over it and marked where they cross the boundaries of grains. The marks stay, so that everybody can count again. It never accepts or rejects the melt by itself.',
  body: structureExamined,
  postings: 'moves nothing',
  things: ({ melt, blank, instrument }) => [
    { thing: 'melt', id: melt },
    { thing: 'blank', id: blank },
    { thing: 'instrument', id: instrument },
  ],
  apply: (books, entry) =>
    noteExamination(books, entry, {
      quality: 'grain size',
      words: String(entry.body.grainSize.output['words']),
    }),
});
