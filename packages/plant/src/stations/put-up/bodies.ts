import { z } from 'zod';
import { calculatedSchema } from '../../journal/calculated.ts';
import { metals } from '../../journal/place.ts';
import { readingSchema } from '../../journal/reading.ts';

const id = z.string().min(1);
const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const piecesCounted = z.number().int().min(1).max(Number.MAX_SAFE_INTEGER);
const entryNumber = z.number().int().min(1);

const metalForm = {
  metal: z.enum(metals),
  pieceStandard: id,
  finenessDeclaredPartsPerMillion: z.number().int().min(1).max(1_000_000),
};

/** Where the mean piece mass of a count by weight comes from. */
const referenceMean = z.strictObject({
  origin: z.enum(['delivered pieces', 'declared mass']),
  referencePieces: piecesCounted,
  meanGrams: z.number().positive(),
  /** Null where the piece standard deviation over the root of the reference pieces stands for it. */
  meanStandardUncertaintyGrams: z.number().positive().nullable(),
  /** Entries of the deliveries that were counted and weighed. */
  deliveries: z.array(entryNumber),
});

export type ReferenceMean = Readonly<z.infer<typeof referenceMean>>;

/** What a weighing says of a tube. */
const tubeVerdicts = ['proved', 'weigh again', 'stopped'] as const;
export type TubeVerdict = (typeof tubeVerdicts)[number];

export const tubeWeighed = z.strictObject({
  tube: id,
  /** Times that this tube was filled, this one included. */
  filling: z.number().int().min(1),
  melt: id,
  ...metalForm,
  pieces: piecesCounted,
  gross: readingSchema,
  grossMicrograms: wholeNumber,
  /** Null where the tare of the piece standard stands for it. */
  tare: readingSchema.nullable(),
  tareMicrograms: wholeNumber,
  netMicrograms: wholeNumber,
  reference: referenceMean,
  /** The count by weight over the weighings of this filling that were made in the same way. */
  count: calculatedSchema,
  state: z.enum(tubeVerdicts),
  /** Runs that had delivered pieces of the melt by then: those that can have struck what is inside. */
  runs: z.array(id),
});

export const tubeOpened = z.strictObject({
  tube: id,
  filling: z.number().int().min(1),
  melt: id,
  pieceStandard: id,
  piecesBooked: piecesCounted,
  piecesFound: wholeNumber,
  stateBefore: z.enum(tubeVerdicts),
});

const tubeInBox = z.strictObject({
  tube: id,
  filling: z.number().int().min(1),
  melt: id,
  pieces: piecesCounted,
  grossMicrograms: wholeNumber,
  netMicrograms: wholeNumber,
  /** Entry of the weighing that proved it. */
  weighedEntry: entryNumber,
  runs: z.array(id),
});

export type TubeInBox = Readonly<z.infer<typeof tubeInBox>>;

const meltInBox = z.strictObject({
  melt: id,
  pieces: piecesCounted,
  netMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
});

export type MeltInBox = Readonly<z.infer<typeof meltInBox>>;

/** The closed box against the closed tubes: what went in, and what came out of it. */
const boxCheck = z.strictObject({
  input: z.strictObject({
    tubeGrossGrams: z.array(z.number().positive()),
    boxGrossGrams: z.number().positive(),
    boxTareGrams: z.number().min(0),
    pieceMassGrams: z.number().positive(),
    weighing: z.strictObject({
      tubeRepeatabilityGrams: z.number().min(0),
      tubeDivisionGrams: z.number().min(0),
      boxTareStandardDeviationGrams: z.number().min(0),
      boxRepeatabilityGrams: z.number().min(0),
      boxDivisionGrams: z.number().min(0),
      gainRelativeEachScale: z.number().min(0),
    }),
  }),
  output: z.strictObject({
    differenceGrams: z.number(),
    standardUncertaintyGrams: z.number().positive(),
    halfPieceOverStandardUncertainty: z.number(),
    misclassificationProbability: z.number(),
    differencePieces: z.number(),
    verdict: z.enum(['unchanged', 'weigh-again', 'changed', 'cannot-prove']),
  }),
});

export type BoxCheck = Readonly<z.infer<typeof boxCheck>>;

export const boxPacked = z.strictObject({
  box: id,
  seal: id,
  ...metalForm,
  tubes: z.array(tubeInBox).min(1),
  melts: z.array(meltInBox).min(1),
  pieces: piecesCounted,
  /** Sum of the net masses of the tubes: the mass that the account takes over. */
  netMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
  gross: readingSchema,
  grossMicrograms: wholeNumber,
  tare: readingSchema.nullable(),
  tareMicrograms: wholeNumber,
  check: boxCheck,
});

export const deliveryAccepted = z.strictObject({
  /** Entry by which the press room sent the pieces. */
  delivery: entryNumber,
  run: id,
  melt: id,
  ...metalForm,
  /** As sent, and as counted when they came. */
  pieces: piecesCounted,
  /** As weighed when they were sent. */
  grossMicrograms: wholeNumber,
  sentBy: id,
});

const piecesMoved = {
  melt: id,
  ...metalForm,
  pieces: piecesCounted,
  gross: readingSchema,
  grossMicrograms: wholeNumber,
};

export const piecesSetAside = z.strictObject(piecesMoved);
export const piecesScrapped = z.strictObject(piecesMoved);

export type DeliveryAccepted = z.infer<typeof deliveryAccepted>;
export type TubeWeighed = z.infer<typeof tubeWeighed>;
export type TubeOpened = z.infer<typeof tubeOpened>;
export type BoxPacked = z.infer<typeof boxPacked>;
export type PiecesSetAside = z.infer<typeof piecesSetAside>;
export type PiecesScrapped = z.infer<typeof piecesScrapped>;
