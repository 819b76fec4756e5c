import { z } from 'zod';
import { metals } from '../../../journal/place.ts';
import { readingSchema } from '../../../journal/reading.ts';

/** Forms in which metal leaves the laboratory, with where each may go. */
export const metalForms = {
  cuttings: ['scrap', 'archive'],
  cornets: ['scrap', 'archive'],
  'precipitated silver': ['scrap'],
  'silver in solution': ['scrap', 'ceased'],
  'cupels and sweeps': ['scrap', 'ceased'],
  'base metal lost in the furnace': ['ceased'],
} as const satisfies Record<string, readonly ('scrap' | 'archive' | 'ceased')[]>;

export type MetalForm = keyof typeof metalForms;

export const formNames = Object.keys(metalForms) as [MetalForm, ...MetalForm[]];

export const waysOut = ['scrap', 'archive', 'ceased'] as const;

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);

export const metalTakenOut = z.strictObject({
  melt: z.string(),
  metal: z.enum(metals),
  pieceStandard: z.string(),
  form: z.enum(formNames),
  to: z.enum(waysOut),
  gross: readingSchema,
  grossMicrograms: wholeNumber,
  /** Of this form: cornets are nearly fine, base metal holds nothing. */
  finenessPartsPerMillion: z.number().int().min(0).max(1_000_000),
  fineMicrograms: wholeNumber,
  /** True where the mass was not weighed; it then never helps to close a balance. */
  estimated: z.boolean(),
  /** How the mass was estimated; null where it was weighed. */
  basis: z.string().nullable(),
});

export type MetalTakenOut = z.infer<typeof metalTakenOut>;
