import { z } from 'zod';
import { metals } from '../../../journal/place.ts';
import { massReadingSchema } from '../../../journal/reading.ts';
import { daySchema, idSchema, reasonSchema, titleSchema } from '../../registers/index.ts';
import { portionParties, recipients } from './words.ts';

const wholeNumber = z.int().min(0).max(Number.MAX_SAFE_INTEGER);

/** What the metal of a portion is, so that its postings follow from the body alone. */
const portionFields = {
  portion: idSchema,
  melt: idSchema,
  consignment: idSchema,
  pieceStandard: idSchema,
  metal: z.enum(metals),
  finenessDeclaredPartsPerMillion: z.int().min(1).max(1_000_000),
};

/** The metal that an act moves. */
const movedFields = { pieces: wholeNumber, grossMicrograms: wholeNumber };

const sealedPortion = z.strictObject({
  portion: idSchema,
  for: z.enum(portionParties),
  /** Whole blanks of the sample; empty for cuttings, which are grams only. */
  blanks: z.array(idSchema),
  gross: massReadingSchema,
  grossMicrograms: wholeNumber,
  seal: idSchema,
  place: titleSchema,
  /** Until when it is kept; nothing where nobody asked for a day. */
  keptUntil: daySchema.nullable(),
});

export const portionsSealed = z.strictObject({
  melt: idSchema,
  consignment: idSchema,
  pieceStandard: idSchema,
  metal: z.enum(metals),
  finenessDeclaredPartsPerMillion: z.int().min(1).max(1_000_000),
  portions: z.array(sealedPortion).min(1),
});

export const portionSent = z.strictObject({
  ...portionFields,
  ...movedFields,
  to: z.enum(recipients),
  sealFound: idSchema,
  document: titleSchema,
  /** Day until which its result is asked for; absent where none was agreed. */
  answerBy: daySchema.exactOptional(),
});

export const portionTakenBack = z.strictObject({
  ...portionFields,
  ...movedFields,
  from: z.enum(recipients),
  /** The blanks that came back whole. */
  blanks: z.array(idSchema),
  gross: massReadingSchema,
  /** Nothing where it came back open. */
  sealFound: idSchema.nullable(),
  /** True where it bears the plant's own seal and holds what was sent. */
  isSealed: z.boolean(),
  document: titleSchema,
});

export const portionOpened = z.strictObject({
  ...portionFields,
  sealFound: idSchema,
  reason: reasonSchema,
});

export const portionReturned = z.strictObject({
  ...portionFields,
  ...movedFields,
  blanks: z.array(idSchema),
  sealFound: idSchema,
  reason: reasonSchema,
});

export const portionDiscarded = z.strictObject({
  ...portionFields,
  ...movedFields,
  /** Used up: by the supplier or umpire, who holds its metal already. */
  how: z.enum(['to the scrap', 'used up']),
  sealFound: idSchema.nullable(),
  reason: reasonSchema,
});

export const portionKept = z.strictObject({
  portion: idSchema,
  melt: idSchema,
  consignment: idSchema,
  place: titleSchema,
  keptUntil: daySchema.nullable(),
  reason: reasonSchema,
});

export type PortionsSealedBody = Readonly<z.infer<typeof portionsSealed>>;
export type PortionSentBody = Readonly<z.infer<typeof portionSent>>;
export type PortionTakenBackBody = Readonly<z.infer<typeof portionTakenBack>>;
export type PortionOpenedBody = Readonly<z.infer<typeof portionOpened>>;
export type PortionReturnedBody = Readonly<z.infer<typeof portionReturned>>;
export type PortionDiscardedBody = Readonly<z.infer<typeof portionDiscarded>>;
export type PortionKeptBody = Readonly<z.infer<typeof portionKept>>;
