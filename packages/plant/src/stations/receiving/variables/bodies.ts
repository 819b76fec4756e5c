import { z } from 'zod';
import { calculatedSchema } from '../../../journal/calculated.ts';

const wholeNumber = z.int().min(0).max(Number.MAX_SAFE_INTEGER);

/** How a lot is inspected: by counting blanks at fault, or by mean and spread of what is measured. */
export const inspections = ['attributes', 'variables'] as const;
export type Inspection = (typeof inspections)[number];

/** What a sampling order says of a lot that is judged by variables. */
export const variablesOrder = z.strictObject({
  /** Blanks of the sample that are measured first, and by which the lot is judged. */
  pieces: wholeNumber,
  plan: calculatedSchema,
  /** Which blanks of the sample they are. */
  draw: calculatedSchema,
});

export type VariablesOrder = Readonly<z.infer<typeof variablesOrder>>;

export const measuredQuantities = ['mass', 'diameter', 'thickness'] as const;
export type MeasuredQuantity = (typeof measuredQuantities)[number];

const characteristic = z.strictObject({
  quantity: z.enum(measuredQuantities),
  verdict: z.enum(['accept', 'do not accept', 'refused']),
  /** Nothing where there is no spread to reckon with. */
  calculated: calculatedSchema.nullable(),
  words: z.string(),
});

export type Characteristic = Readonly<z.infer<typeof characteristic>>;

/** How a lot stands by variables, once so many of its blanks are measured. */
export const lotByVariables = z.strictObject({
  state: z.enum(['open', 'accepted', 'rejected', 'by attributes']),
  blanksMeasured: wholeNumber,
  blanksNeeded: wholeNumber,
  characteristics: z.array(characteristic),
  words: z.string(),
});

export type LotByVariables = Readonly<z.infer<typeof lotByVariables>>;
