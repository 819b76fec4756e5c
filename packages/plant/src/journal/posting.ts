import { z } from 'zod';
import { invariant } from './fault.ts';
import { metals, type Place, places } from './place.ts';

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);

/** Schema of a posting as it stands in an entry. */
const postingSchema = z.strictObject({
  metal: z.enum(metals),
  /** Id of the piece standard that the metal is in the form of. */
  pieceStandard: z.string().min(1),
  /** Melt that the metal comes from; null where melts are mixed, as in scrap. */
  melt: z.string().min(1).nullable(),
  /** Drum, tube or box that carries it; null when loose. */
  container: z.string().min(1).nullable(),
  from: z.enum(places as readonly [Place, ...Place[]]),
  to: z.enum(places as readonly [Place, ...Place[]]),
  pieces: wholeNumber,
  grossMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
  /** True when the mass was not weighed but estimated (sweeps, solutions). */
  estimated: z.boolean(),
});

/**
 * Metal that goes from one place to another, in pieces, gross and fine. It takes from one place
 * exactly what it gives to the other, so every posting balances by its form.
 */
export type Posting = Readonly<z.infer<typeof postingSchema>>;

/** Holds a posting to what must be true of it; breaking it is a fault of the entry kind that made it. */
export function assertPosting(posting: Posting): void {
  const parsed = postingSchema.safeParse(posting);
  invariant(parsed.success, `posting is malformed: ${parsed.success ? '' : parsed.error.message}`);
  invariant(posting.from !== posting.to, `posting goes from ${posting.from} to itself`);
  invariant(
    posting.pieces > 0 || posting.grossMicrograms > 0,
    'posting moves neither piece nor gram',
  );
  invariant(
    posting.fineMicrograms <= posting.grossMicrograms,
    `posting holds ${posting.fineMicrograms} µg fine in ${posting.grossMicrograms} µg gross`,
  );
}
