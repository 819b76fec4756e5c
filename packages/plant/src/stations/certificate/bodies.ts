import { z } from 'zod';
import { metals } from '../../journal/place.ts';
import { certificateContentSchema } from './content.ts';

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);

export const certificateIssued = z.strictObject({
  certificate: z.string(),
  boxes: z.array(z.string()).min(1),
  content: certificateContentSchema,
});

export const certificateWithdrawn = z.strictObject({
  certificate: z.string(),
  boxes: z.array(z.string()).min(1),
  reason: z.string(),
});

export const boxesDispatched = z.strictObject({
  dispatch: z.string(),
  purchaser: z.string(),
  document: z.string(),
  pieceStandards: z.array(z.string()).min(1),
  boxes: z
    .array(
      z.strictObject({
        box: z.string(),
        certificate: z.string(),
        metal: z.enum(metals),
        pieceStandard: z.string(),
        /** What the box took into the strong room, melt by melt: the same goes out. */
        parts: z
          .array(
            z.strictObject({
              melt: z.string(),
              pieces: wholeNumber,
              grossMicrograms: wholeNumber,
              fineMicrograms: wholeNumber,
            }),
          )
          .min(1),
      }),
    )
    .min(1),
});

export type CertificateIssued = z.infer<typeof certificateIssued>;
export type CertificateWithdrawn = z.infer<typeof certificateWithdrawn>;
export type BoxesDispatched = z.infer<typeof boxesDispatched>;
