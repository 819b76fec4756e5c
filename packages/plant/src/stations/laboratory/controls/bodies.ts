import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { readingSchema } from '../../../journal/reading.ts';
import { agreementInput, agreementOutput } from './agreement.ts';

const calculated = calculatedSchema as unknown as z.ZodType<Calculated>;

/** The edition of the method that governed a run. */
export const namedEdition = z.strictObject({ method: z.string(), edition: z.int().min(1) });

/** What a run found of one certified value, and whether it agrees. */
const comparison = z.strictObject({
  quantity: z.string(),
  unit: z.string(),
  version: z.int().min(1),
  input: agreementInput,
  output: agreementOutput,
});

const reference = z.strictObject({
  label: z.string(),
  referenceMaterial: z.string(),
  taken: readingSchema,
  /** What else was read of this portion, as it was sent. */
  readings: z.array(z.strictObject({ what: z.string(), reading: readingSchema })),
  calculated,
  comparisons: z.array(comparison).min(1),
  agrees: z.boolean(),
});

const blank = z.strictObject({
  label: z.string(),
  quantity: z.string(),
  unit: z.string(),
  value: z.number(),
  /** Of the edition; null where it sets none, and then nothing is judged. */
  greatest: z.number().nullable(),
  passes: z.boolean().nullable(),
});

const runControls = z.strictObject({
  references: z.array(reference),
  blanks: z.array(blank),
});

/** The factor of a titrant that a run determined. */
export const determinedFactor = z.strictObject({
  lot: z.string(),
  factorMilligramsPerMillilitre: z.number(),
  standardUncertaintyMilligramsPerMillilitre: z.number(),
});

/** What the record of a run of any method may hold beside its readings. */
export const runQuality = {
  method: namedEdition.exactOptional(),
  controls: runControls.exactOptional(),
  reagentLots: z.array(z.string()).exactOptional(),
  titrantFactor: determinedFactor.exactOptional(),
};

type NamedEdition = z.infer<typeof namedEdition>;
export type Comparison = z.infer<typeof comparison>;
export type ReferenceResult = z.infer<typeof reference>;
export type BlankResult = z.infer<typeof blank>;
export type RunControls = z.infer<typeof runControls>;

/** The part of a run's body that its controls, reagents and edition make. */
export interface RunQuality {
  readonly method?: NamedEdition;
  readonly controls?: RunControls;
  readonly reagentLots?: string[];
  readonly titrantFactor?: z.infer<typeof determinedFactor>;
}
