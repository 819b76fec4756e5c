import { z } from 'zod';
import { calculatedSchema } from '../../../journal/calculated.ts';
import { metals } from '../../../journal/place.ts';
import { idSchema, titleSchema } from '../../registers/index.ts';
import { differenceCauses, differingThings, settlements, supplierAnswers } from './words.ts';

const wholeNumber = z.int().min(0).max(Number.MAX_SAFE_INTEGER);
const signedNumber = z.int().min(-Number.MAX_SAFE_INTEGER).max(Number.MAX_SAFE_INTEGER);
const entryNumber = z.int().min(1);

/** One drum, or one melt, as announced and as found. */
const differenceFigures = z.strictObject({
  thing: z.enum(differingThings),
  id: idSchema,
  melt: idSchema,
  causes: z.array(z.enum(differenceCauses)).min(1),
  /** Of a drum as the document states it, of a melt as it was taken in. */
  piecesAnnounced: wholeNumber,
  netAnnouncedMicrograms: wholeNumber,
  /** What was found, or what is kept where something went back. */
  piecesFound: wholeNumber,
  /** Nothing while a drum has not been weighed in. */
  netFoundMicrograms: wholeNumber.nullable(),
  differencePieces: signedNumber,
  differenceMicrograms: signedNumber.nullable(),
  /** Of the difference in mass; nothing where it was not weighed. */
  standardUncertaintyMicrograms: wholeNumber.nullable(),
  sealDocumented: idSchema.nullable(),
  /** Nothing where the drum bore none. */
  sealFound: idSchema.nullable(),
  /** The entries that show it. */
  evidence: z.array(entryNumber),
  /** UTC; of a drum when it was first in hand, of a melt when it was refused. */
  beganAt: z.string(),
});

export type DifferenceFigures = Readonly<z.infer<typeof differenceFigures>>;

export const differenceRaised = z.strictObject({
  difference: idSchema,
  number: z.int().min(1),
  consignment: idSchema,
  supplier: idSchema,
  pieceStandard: idSchema,
  metal: z.enum(metals),
  document: titleSchema,
  lines: z.array(differenceFigures).min(1),
  differencePieces: signedNumber,
  differenceMicrograms: signedNumber,
  /** Until when the claims had to be raised, and until when the supplier answers. */
  deadlines: calculatedSchema,
  raisedOn: z.string(),
  answerDue: z.string(),
  isLate: z.boolean(),
  words: z.string(),
});

const sha256 = z.string('64 hexadecimal digits').regex(/^[0-9a-f]{64}$/, '64 hexadecimal digits');
const nameForm = 'a name of 1 to 200 characters';

/** A file that is kept beside the journal. */
export const keptFileSchema = z.strictObject({
  name: z.string(nameForm).min(1, nameForm).max(200, nameForm).meta({ title: 'Name' }),
  sha256: sha256.meta({ title: 'SHA-256', description: 'Of the bytes that are kept.' }),
});

export const differenceAnswered = z.strictObject({
  difference: idSchema,
  answer: z.enum(supplierAnswers),
  document: titleSchema,
  file: keptFileSchema.nullable(),
  words: z.string(),
});

const settledLine = z.strictObject({
  thing: z.enum(differingThings),
  id: idSchema,
  agreedPieces: signedNumber,
  agreedMicrograms: signedNumber,
  how: z.enum(settlements),
});

export const differenceSettled = z.strictObject({
  difference: idSchema,
  lines: z.array(settledLine).min(1),
  agreedPieces: signedNumber,
  agreedMicrograms: signedNumber,
  document: titleSchema,
  words: z.string(),
});

export type SettledLine = Readonly<z.infer<typeof settledLine>>;
export type DifferenceRaisedBody = Readonly<z.infer<typeof differenceRaised>>;
export type DifferenceAnsweredBody = Readonly<z.infer<typeof differenceAnswered>>;
export type DifferenceSettledBody = Readonly<z.infer<typeof differenceSettled>>;
