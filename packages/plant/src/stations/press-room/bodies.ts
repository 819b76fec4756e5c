import { z } from 'zod';
import { metals } from '../../journal/place.ts';
import { readingSchema } from '../../journal/reading.ts';

const id = z.string().min(1);
const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const piecesMoved = z.number().int().min(1).max(Number.MAX_SAFE_INTEGER);
const strikeNumber = z.number().int().min(1).max(Number.MAX_SAFE_INTEGER);
const dimension = z.number().positive();

/** When in a run a piece is examined. */
export const occasions = ['first', 'roving', 'last'] as const;
export type Occasion = (typeof occasions)[number];

/** Where a defect comes from, which decides what has to be held. */
export const defectFamilies = ['metal', 'die or collar', 'feeding or handling'] as const;
export type DefectFamily = (typeof defectFamilies)[number];

/** What a photograph shows. */
export const faces = ['obverse', 'reverse', 'edge'] as const;
export type Face = (typeof faces)[number];

/** What the chief assayer can decide about held pieces. */
export const holdRulings = ['release', 'scrap'] as const;

/** What a posting needs to know about the metal that moves. */
const metalMoved = {
  melt: id,
  metal: z.enum(metals),
  pieceStandard: id,
  finenessDeclaredPartsPerMillion: z.number().int().min(1).max(1_000_000),
  pieces: piecesMoved,
  /** Mass of the pieces as the balance sent it. */
  gross: readingSchema,
  grossMicrograms: wholeNumber,
};

export const blanksTaken = z.strictObject({
  ...metalMoved,
  /** The ruling under which the melt may be struck. */
  ruling: z.enum(['release', 'concession']),
});

export const runOpened = z.strictObject({
  run: id,
  press: id,
  obverse: id,
  reverse: id,
  collar: id,
  melt: id,
  metal: z.enum(metals),
  pieceStandard: id,
  counterBefore: wholeNumber,
  /** Strokes of the press that no run accounts for; null at its first run or after its counter was set back. */
  strokesSinceLastRun: wholeNumber.nullable(),
});

export const photographSchema = z.strictObject({
  face: z.enum(faces, `one of ${faces.join(', ')}`),
  sha256: z
    .string()
    .regex(
      /^[0-9a-f]{64}$/,
      'the SHA-256 of a stored photograph: 64 lower-case hexadecimal digits',
    ),
});

const limits = z.strictObject({
  massLeastMilligrams: dimension,
  massGreatestMilligrams: dimension,
  diameterLeastMillimetres: dimension,
  diameterGreatestMillimetres: dimension,
  thicknessLeastMillimetres: dimension,
  thicknessGreatestMillimetres: dimension,
});

export type StrikeLimits = z.infer<typeof limits>;

export const strikeRecorded = z.strictObject({
  run: id,
  melt: id,
  pieceStandard: id,
  occasion: z.enum(occasions),
  /** Strokes of the press since the run began, this one included. */
  strikeNumber,
  mass: readingSchema,
  massMicrograms: wholeNumber,
  diameter: readingSchema,
  diameterMillimetres: dimension,
  thickness: readingSchema,
  thicknessMillimetres: dimension,
  instruments: z.strictObject({ mass: id, diameter: id, thickness: id }),
  limits,
  /** Readings outside the limits, by name. */
  outside: z.array(z.enum(['mass', 'diameter', 'thickness'])),
  photographs: z.array(photographSchema).min(1),
  verdict: z.enum(['approved', 'fault']),
  defect: z.strictObject({ family: z.enum(defectFamilies), words: z.string().min(1) }).nullable(),
});

/** Pieces of one run from one strike to another, both included. */
const held = z.strictObject({
  run: id,
  melt: id,
  strikeFrom: strikeNumber,
  strikeTo: strikeNumber,
});

export type HeldRange = z.infer<typeof held>;

export const holdOpened = z.strictObject({
  hold: id,
  /** The run, press, melt and strike at which the fault was seen. */
  run: id,
  press: id,
  melt: id,
  strikeNumber,
  family: z.enum(defectFamilies),
  words: z.string().min(1),
  scope: z.enum(['melt', 'bracket', 'press and shift']),
  shift: z.string().min(1),
  held: z.array(held).min(1),
  pieces: piecesMoved,
});

export const rejectsSetAside = z.strictObject({
  run: id,
  family: z.enum(defectFamilies),
  ...metalMoved,
});

export const runClosed = z.strictObject({
  run: id,
  press: id,
  melt: id,
  obverse: id,
  reverse: id,
  collar: id,
  counterAfter: wholeNumber,
  strokes: piecesMoved,
});

export const piecesDelivered = z.strictObject({
  run: id,
  obverse: id,
  reverse: id,
  collar: id,
  ...metalMoved,
});

export const holdResolved = z.strictObject({
  hold: id,
  run: id,
  melt: id,
  strikeNumber,
  ruling: z.enum(holdRulings),
  reason: z.string().min(1),
  held: z.array(
    held.extend({
      /** Held pieces of that run that had gone to put-up before: the strikes that could be among them. */
      piecesDelivered: wholeNumber,
    }),
  ),
});

export type BlanksTaken = z.infer<typeof blanksTaken>;
export type RunOpened = z.infer<typeof runOpened>;
export type StrikeRecorded = z.infer<typeof strikeRecorded>;
export type HoldOpened = z.infer<typeof holdOpened>;
export type RejectsSetAside = z.infer<typeof rejectsSetAside>;
export type RunClosed = z.infer<typeof runClosed>;
export type PiecesDelivered = z.infer<typeof piecesDelivered>;
export type HoldResolved = z.infer<typeof holdResolved>;
