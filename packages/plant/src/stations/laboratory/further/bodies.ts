import { z } from 'zod';

/** Why the blanks that were drawn first do not decide the melt. */
const furtherCauses = [
  'the verdict is undecided',
  'the impurities are undecided',
  'the melt is held',
  'a determination does not count',
  'the determinations do not agree',
] as const;

export const furtherBlanksAsked = z.strictObject({
  melt: z.string(),
  consignment: z.string(),
  pieceStandard: z.string(),
  /** 1 for the first time that further blanks of the melt are asked for. */
  round: z.number().int().min(1),
  pieces: z.number().int().min(1),
  cause: z.enum(furtherCauses),
  reason: z.string(),
});

export type FurtherCause = (typeof furtherCauses)[number];
export type FurtherBlanksAsked = z.infer<typeof furtherBlanksAsked>;
