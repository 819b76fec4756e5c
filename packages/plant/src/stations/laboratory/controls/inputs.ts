import { z } from 'zod';
import { massReadingSchema } from '../../../journal/reading.ts';
import { idSchema, quantitySchema, titleSchema } from '../../registers/index.ts';

/** What every reference portion of a run states, whatever its method. */
export const referenceFields = {
  label: idSchema.meta({ title: 'Label', description: 'As it stands on the worksheet.' }),
  referenceMaterial: idSchema.meta({
    title: 'Reference material',
    description: 'The id on its label.',
  }),
  taken: massReadingSchema.meta({ title: 'Taken', description: 'Reference material weighed in.' }),
};

/** A list of reference portions, each made of the common fields and of what the method reads. */
export const referenceList = <Item extends { readonly label: string }>(item: z.ZodType<Item>) =>
  z
    .array(item, 'a list of reference portions')
    .max(20, 'at most 20 reference portions')
    .refine((items) => new Set(items.map(({ label }) => label)).size === items.length, {
      error: 'reference portions with different labels',
    })
    .optional()
    .meta({ title: 'Reference materials', description: 'Run beside the portions of the melt.' });

const blankForm = 'a number from -1000000 to 1000000';

/** Fields of the controls that the command of every method takes alike. */
export const controlFields = {
  blanks: z
    .array(
      z.strictObject({
        label: idSchema.meta({ title: 'Label', description: 'As it stands on the worksheet.' }),
        quantity: quantitySchema,
        unit: titleSchema.meta({ title: 'Unit', description: 'Such as mg/kg, mg or mL.' }),
        value: z
          .number(blankForm)
          .min(-1_000_000, blankForm)
          .max(1_000_000, blankForm)
          .meta({ title: 'Value' }),
      }),
      'a list of blanks',
    )
    .max(60, 'at most 60 blanks')
    .optional()
    .meta({ title: 'Blanks', description: 'Run without metal.' }),
  reagentLots: z
    .array(idSchema.meta({ title: 'Lot' }), 'a list of lots')
    .max(20, 'at most 20 lots')
    .refine((lots) => new Set(lots).size === lots.length, { error: 'each lot once' })
    .optional()
    .meta({ title: 'Reagent lots', description: 'That the run was made with.' }),
};

/** A reference portion as the gate sees one. */
export interface ReferencePortion {
  readonly label: string;
  readonly referenceMaterial: string;
  readonly taken: z.infer<typeof massReadingSchema>;
}

/** The controls of a run as its command states them. */
export interface StatedControls {
  readonly references?: readonly ReferencePortion[] | undefined;
  readonly blanks?:
    | readonly {
        readonly label: string;
        readonly quantity: string;
        readonly unit: string;
        readonly value: number;
      }[]
    | undefined;
  readonly reagentLots?: readonly string[] | undefined;
}
