import { z } from 'zod';
import { daySchema, idSchema, reasonSchema, titleSchema } from '../identity.ts';
import { sha256Schema } from '../reference-materials/bodies.ts';

const lotId = idSchema.meta({
  title: 'Lot',
  description: 'The id that the plant puts on the label of the bottle.',
});

export const reagentLotReceived = z.strictObject({
  lot: lotId,
  reagent: titleSchema.meta({
    title: 'Reagent',
    description: 'Its kind, as the methods name it, such as nitric acid 33 %.',
  }),
  supplier: titleSchema.meta({ title: 'Supplier', description: 'Who made or sold it.' }),
  supplierLot: titleSchema.meta({
    title: "Supplier's lot",
    description: 'As the supplier printed it; for a solution made here, how it was made.',
  }),
  expires: daySchema.meta({ title: 'Expires', description: 'The last day of its use.' }),
  isTitrant: z.boolean('true or false').meta({
    title: 'Titrant',
    description: 'Its factor is determined against a standard.',
  }),
  attachmentSha256: sha256Schema.exactOptional(),
});

export const reagentLotOpened = z.strictObject({
  lot: lotId,
  /** The last day of its use once opened, never after the day on the label. */
  expires: daySchema.meta({ title: 'Expires', description: 'The last day now that it is open.' }),
});

export const reagentLotCondemned = z.strictObject({ lot: lotId, reason: reasonSchema });

const factor = 'mg/mL above 0';

export const titrantFactorStated = z.strictObject({
  lot: lotId,
  factorMilligramsPerMillilitre: z.number(factor).positive(factor),
  standardUncertaintyMilligramsPerMillilitre: z.number(factor).positive(factor),
  /** The run in which it was determined. */
  determinedIn: idSchema,
});

export type ReagentLotReceived = z.infer<typeof reagentLotReceived>;
export type ReagentLotOpened = z.infer<typeof reagentLotOpened>;
export type ReagentLotCondemned = z.infer<typeof reagentLotCondemned>;
export type TitrantFactorStated = z.infer<typeof titrantFactorStated>;
