import { z } from 'zod';
import { calculatedSchema } from '../../../journal/calculated.ts';
import { metals } from '../../../journal/place.ts';
import { massReadingSchema } from '../../../journal/reading.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';

const wholeNumber = z.int().min(0).max(Number.MAX_SAFE_INTEGER);
const place = { drum: idSchema, position: wholeNumber };

/** Which round of further blanks an act concerns. */
const roundFields = {
  consignment: idSchema,
  melt: idSchema,
  round: z.int().min(1),
};

export const furtherBlanksDrawn = z.strictObject({
  ...roundFields,
  /** The entry by which the laboratory asked, and its hash: nobody could choose it. */
  seedEntry: z.int().min(1),
  seedHash: z.string(),
  /** SHA-256 of that hash, a blank, and the melt's id. */
  seed: z.string(),
  /** Blanks of each drum that an earlier draw took out: they are not drawn again. */
  takenBefore: z.array(z.strictObject({ drum: idSchema, pieces: wholeNumber })),
  draw: calculatedSchema,
  blanks: z.array(z.strictObject({ blank: idSchema, pick: wholeNumber, ...place })).min(1),
});

export const furtherPickSubstituted = z.strictObject({
  ...roundFields,
  blank: idSchema,
  pick: wholeNumber,
  /** Where the blank was to be taken. */
  drawn: z.strictObject(place),
  /** Where it is taken instead: drawn too, among the places that no pick has. */
  substitute: z.strictObject(place),
  draw: calculatedSchema,
  reason: reasonSchema,
});

export const furtherBlanksTaken = z.strictObject({
  ...roundFields,
  pieceStandard: idSchema,
  metal: z.enum(metals),
  finenessDeclaredPartsPerMillion: z.int().min(1).max(1_000_000),
  pieces: wholeNumber,
  gross: massReadingSchema,
  grossMicrograms: wholeNumber,
  blanks: z.array(z.strictObject({ blank: idSchema, drum: idSchema })),
  scanned: z.array(idSchema),
  notScanned: z.array(idSchema),
  /** Why some were not scanned; nothing where all were. */
  reason: reasonSchema.nullable(),
});

export type FurtherBlanksDrawnBody = Readonly<z.infer<typeof furtherBlanksDrawn>>;
export type FurtherPickSubstitutedBody = Readonly<z.infer<typeof furtherPickSubstituted>>;
export type FurtherBlanksTakenBody = Readonly<z.infer<typeof furtherBlanksTaken>>;
