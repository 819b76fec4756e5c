import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { readingSchema } from '../../../journal/reading.ts';
import { determination } from '../bodies.ts';
import { runQuality } from '../controls/bodies.ts';

const calculated = calculatedSchema as unknown as z.ZodType<Calculated>;

/** The ion that precipitates silver: chloride after ISO 13756, bromide after ISO 11427. */
export const halides = ['chloride', 'bromide'] as const;

/** Where a curve came from. */
export const curveOrigins = ['typed', 'pasted', 'file', 'line'] as const;

/** A curve with its end point: what was found on it, and what the assayer confirmed. */
const titratedSchema = z.strictObject({
  minutes: z.number(),
  origin: z.enum(curveOrigins),
  /** Name of the file that it came from; null for any other origin. */
  fileName: z.string().nullable(),
  /** Its input is the curve as it was read. */
  endPoint: calculated,
  confirmedMillilitres: z.number(),
  /** Why another point was taken than the one found; null where the found one was confirmed. */
  reason: z.string().nullable(),
  /** What the fineness is computed from: the end point found, or the other point that was taken. */
  volumeMillilitres: z.number(),
  /** Of that volume: as the calculation states it, joined with the distance of another point. */
  standardUncertaintyMillilitres: z.number(),
});

/** A factor of the titrant that was determined before the run, and stands for its standards. */
const usedTitre = z.strictObject({
  /** The determination, and the entry that recorded it. */
  assayRun: z.string(),
  entry: z.int().min(1),
  determinedAt: z.string(),
  ageHours: z.number(),
  /** Of the edition of the method, else the usual one. */
  greatestAgeHours: z.number(),
  factorMilligramsPerMillilitre: z.number(),
  standardUncertaintyMilligramsPerMillilitre: z.number(),
  degreesOfFreedom: z.number().nullable(),
  balance: z.string(),
  /** As the determination read them, so that its factor can be computed again. */
  standards: z.array(z.strictObject({ label: z.string(), silver: readingSchema })).min(2),
});

const reagentBlank = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('none') }),
  z.strictObject({
    kind: z.literal('stated'),
    volumeMillilitres: z.number(),
    standardUncertaintyMillilitres: z.number(),
  }),
  z.strictObject({ kind: z.literal('titrated'), titrated: titratedSchema }),
]);

export const titrationRecorded = z.strictObject({
  assayRun: z.string(),
  melt: z.string(),
  pieceStandard: z.string(),
  /** Lot of the titrant. */
  titrant: z.string(),
  halide: z.enum(halides),
  /** By its making; null where it was not stated. */
  titrantMolesPerLitre: z.number().nullable(),
  silverFinenessPerMille: z.number(),
  silverStandardUncertaintyPerMille: z.number(),
  buretteStandardUncertaintyMillilitres: z.number(),
  reagentBlank,
  /** None where a titre stands for them. */
  standards: z.array(
    z.strictObject({ label: z.string(), silver: readingSchema, titrated: titratedSchema }),
  ),
  titre: usedTitre.exactOptional(),
  samples: z
    .array(
      z.strictObject({
        label: z.string(),
        blank: z.string(),
        sample: readingSchema,
        titrated: titratedSchema,
        titration: calculated,
      }),
    )
    .min(1),
  /** Curves of the reference portions, whose comparisons stand with the controls. */
  references: z.array(z.strictObject({ label: z.string(), titrated: titratedSchema })),
  /** Of the standards of the run, or of the determination of the titre. */
  factor: calculated,
  balance: z.string(),
  /** The burette with its electrode. */
  instrument: z.string(),
  state: z.enum(['valid', 'void']),
  voidReason: z.string().nullable(),
  determinations: z.array(determination),
  ...runQuality,
});

export type UsedTitre = z.infer<typeof usedTitre>;
export type Titrated = z.infer<typeof titratedSchema>;
export type TitrationRecorded = z.infer<typeof titrationRecorded>;
