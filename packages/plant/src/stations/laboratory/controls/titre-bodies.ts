import { z } from 'zod';
import { type Calculated, calculatedSchema } from '../../../journal/calculated.ts';
import { readingSchema } from '../../../journal/reading.ts';
import { determinedFactor } from './bodies.ts';

export const titreDetermined = z.strictObject({
  assayRun: z.string(),
  referenceMaterial: z.string(),
  standards: z.array(
    z.strictObject({
      label: z.string(),
      minutes: z.number(),
      silver: readingSchema,
      volumeMillilitres: z.number(),
    }),
  ),
  instrument: z.string(),
  calculated: calculatedSchema as unknown as z.ZodType<Calculated>,
  titrant: determinedFactor,
});

export type TitreDetermined = z.infer<typeof titreDetermined>;
