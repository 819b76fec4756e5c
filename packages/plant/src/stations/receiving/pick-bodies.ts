import { z } from 'zod';
import { calculatedSchema } from '../../journal/calculated.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';

const wholeNumber = z.int().min(0).max(Number.MAX_SAFE_INTEGER);
const place = { drum: idSchema, position: wholeNumber };

export const pickSubstituted = z.strictObject({
  consignment: idSchema,
  melt: idSchema,
  blank: idSchema,
  pick: wholeNumber,
  /** Where the blank was to be taken. */
  drawn: z.strictObject(place),
  /** Where it is taken instead: drawn too, among the places that no pick has. */
  substitute: z.strictObject(place),
  draw: calculatedSchema,
  reason: reasonSchema,
});

export const picksVerified = z.strictObject({
  consignment: idSchema,
  melt: idSchema,
  scanned: z.array(idSchema),
  notScanned: z.array(idSchema),
  /** Why some were not scanned; nothing where all were. */
  reason: reasonSchema.nullable(),
});

export type PickSubstitutedBody = Readonly<z.infer<typeof pickSubstituted>>;
export type PicksVerifiedBody = Readonly<z.infer<typeof picksVerified>>;
