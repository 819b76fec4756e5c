import { z } from 'zod';
import { massReadingSchema, readingMicrograms } from '../../journal/reading.ts';
import { idSchema, titleSchema } from '../registers/index.ts';
import { takenListSchema } from './list/list-bodies.ts';

const piecesAccepted = 'a whole number of pieces from 1 to 100000';
const finenessAccepted = 'a fineness above 0 ‰ and at most 1000 ‰, or nothing';
const meltAccepted = 'at most 32 characters and no slash, since blanks are numbered M-1/1, M-1/2';

export const meltIdSchema = idSchema
  .refine((id) => id.length <= 32 && !id.includes('/'), { error: meltAccepted })
  .meta({ title: 'Melt', description: "The supplier's melt number." });

export const supplierFinenessSchema = z
  .number(finenessAccepted)
  .positive(finenessAccepted)
  .max(1000, finenessAccepted)
  .nullable()
  .meta({
    title: "Supplier's fineness",
    description: 'Kept from everybody until the plant has signed its own result.',
    unit: '‰',
  });

export const drumPiecesSchema = z
  .int(piecesAccepted)
  .min(1, piecesAccepted)
  .max(100_000, piecesAccepted)
  .meta({ title: 'Pieces', description: 'As documented for this drum.' });

const announcedMelt = z.strictObject({
  melt: meltIdSchema,
  supplierFinenessPerMille: supplierFinenessSchema,
});

const announcedDrum = z
  .strictObject({
    drum: idSchema.meta({ title: 'Drum', description: 'The id on the label of the drum.' }),
    melt: meltIdSchema,
    pieces: drumPiecesSchema,
    gross: massReadingSchema.meta({ title: 'Gross', description: 'As documented.' }),
    tare: massReadingSchema.meta({ title: 'Tare', description: 'As documented.' }),
    seal: idSchema.meta({ title: 'Seal', description: 'The number on the seal of the drum.' }),
  })
  .superRefine((drum, context) => {
    // A reading that is no mass has its own issue already; refinements run beside one another.
    const masses = [drum.gross, drum.tare].map((reading) => massReadingSchema.safeParse(reading));
    const [gross, tare] = masses.map(({ data }) => data && readingMicrograms(data));
    if (gross === undefined || tare === undefined || gross > tare) return;
    const message = `less than the gross mass, which is ${drum.gross.text} ${drum.gross.unit}`;
    context.addIssue({ code: 'custom', path: ['tare'], message });
  });

/** The packing list as a command: every id once, every drum of a melt that is listed. */
export const announceInput = z
  .strictObject({
    consignment: idSchema.meta({ title: 'Consignment', description: 'A new id for the delivery.' }),
    supplier: idSchema.meta({ title: 'Supplier', description: 'Who delivers.' }),
    document: titleSchema.meta({
      title: 'Document',
      description: 'Delivery note or packing list.',
    }),
    pieceStandard: idSchema.meta({
      title: 'Piece standard',
      description: 'What the blanks become.',
    }),
    melts: z
      .array(announcedMelt, 'a list of melts')
      .min(1, 'at least one melt')
      .max(500, 'at most 500 melts'),
    drums: z
      .array(announcedDrum, 'a list of drums')
      .min(1, 'at least one drum')
      .max(2000, 'at most 2000 drums'),
    packingList: takenListSchema.optional().meta({
      title: 'Packing list',
      description: "The supplier's file; absent where the drums were typed by hand.",
    }),
  })
  .superRefine((input, context) => {
    const problem = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    const melts = input.melts.map(({ melt }) => melt);
    for (const [index, repeated] of repeats(melts)) {
      problem(['melts', index, 'melt'], `each melt once; it stands in line ${repeated + 1} too`);
    }
    for (const field of ['drum', 'seal'] as const) {
      for (const [index, repeated] of repeats(input.drums.map((drum) => drum[field]))) {
        problem(['drums', index, field], `each ${field} once; drum ${repeated + 1} has it too`);
      }
    }
    const listed = new Set(melts);
    const filled = new Set(input.drums.map(({ melt }) => melt));
    for (const [index, { melt }] of input.drums.entries()) {
      if (!listed.has(melt)) problem(['drums', index, 'melt'], 'one of the melts listed');
    }
    for (const [index, melt] of melts.entries()) {
      if (!filled.has(melt)) problem(['melts', index, 'melt'], 'a melt that lies in a drum listed');
    }
  });

export type AnnounceInput = z.infer<typeof announceInput>;

/** Index of each repeated text with the index of its first appearance. */
function repeats(texts: readonly string[]): readonly (readonly [number, number])[] {
  const first = new Map<string, number>();
  return texts.flatMap((text, index) => {
    const earlier = first.get(text);
    if (earlier === undefined) first.set(text, index);
    return earlier === undefined ? [] : [[index, earlier] as const];
  });
}
