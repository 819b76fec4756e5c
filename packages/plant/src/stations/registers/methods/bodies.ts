import { z } from 'zod';
import { metals } from '../../../journal/place.ts';
import { idSchema, titleSchema } from '../identity.ts';
import { assayMethods } from '../piece-standard.ts';
import { quantitySchema } from '../reference-materials/bodies.ts';

const fineness = (title: string, description: string) => {
  const accepted = 'a fineness from 0 to 1000 ‰';
  return z
    .number(accepted)
    .min(0, accepted)
    .max(1000, accepted)
    .meta({ title, description, unit: '‰' });
};

const count = (least: number, most: number, title: string, description: string) => {
  const accepted = `a whole number from ${least} to ${most}`;
  return z.int(accepted).min(least, accepted).max(most, accepted).meta({ title, description });
};

const scope = z
  .strictObject({
    metal: z
      .enum(metals, `one of ${metals.join(', ')}`)
      .meta({ title: 'Metal', description: 'Whose fineness the method finds.' }),
    leastPerMille: fineness('Least fineness', 'From which the method holds.'),
    greatestPerMille: fineness('Greatest fineness', 'Up to which the method holds.'),
  })
  .refine((one) => one.leastPerMille < one.greatestPerMille, {
    error: 'a greatest fineness above the least',
    path: ['greatestPerMille'],
  })
  .meta({ title: 'Scope' });

const askedMaterial = z.strictObject({
  by: z.enum(['kind', 'id'], 'kind or id').meta({
    title: 'Named by',
    description: 'By its kind, so that the next bottle serves; or by the id of one bottle.',
  }),
  name: titleSchema.meta({ title: 'Kind or id', description: 'As the register has it.' }),
  perRun: count(1, 10, 'Determinations in a run', 'Of this material, in every run.'),
});

const greatestBlank = 'a number above 0';

const askedBlank = z.strictObject({
  quantity: quantitySchema,
  unit: titleSchema.meta({ title: 'Unit', description: 'Such as mg/kg, mg or mL.' }),
  greatest: z
    .number(greatestBlank)
    .positive(greatestBlank)
    .meta({ title: 'Greatest value', description: 'Beyond which the run does not count.' }),
});

const titreAgeForm = 'hours above 0, up to 2000';
const cautionForm = 'a caution of 3 to 500 characters';
const notesForm = 'notes of at most 4000 characters';
const agreementForm = 'a limit above 0 and at most 3, usually 1';

/** Each item of a list once, by what names it. */
const isEachOnce = <Item>(nameOf: (item: Item) => string) => {
  return (items: readonly Item[]): boolean => new Set(items.map(nameOf)).size === items.length;
};

/** What an edition of a method says, but for its number. */
export const methodFields = {
  method: idSchema.meta({ title: 'Method', description: 'Its id, the same for all editions.' }),
  title: titleSchema.meta({ title: 'Title', description: 'As it stands on papers.' }),
  assayMethod: z
    .enum(assayMethods, `one of ${assayMethods.join(', ')}`)
    .meta({ title: 'Way of assay', description: 'The kind of run that the method governs.' }),
  calculation: idSchema.meta({
    title: 'Calculation',
    description: 'Its id in the list of calculations, by which a run is computed.',
  }),
  scope,
  determinationsAtLeast: count(2, 4, 'Determinations at least', 'That a result rests on.'),
  referenceMaterials: z
    .array(askedMaterial, 'a list of reference materials')
    .max(10, 'at most 10 reference materials')
    .refine(
      isEachOnce<z.infer<typeof askedMaterial>>((one) => `${one.by} ${one.name}`),
      { error: 'each material once' },
    )
    .meta({ title: 'Reference materials asked', description: 'In every run.' }),
  greatestNormalizedError: z
    .number(agreementForm)
    .positive(agreementForm)
    .max(3, agreementForm)
    .meta({
      title: 'Greatest Eₙ',
      description: 'Up to which a reference material agrees with its certificate, usually 1.',
    }),
  blanks: z
    .array(askedBlank, 'a list of blanks')
    .max(20, 'at most 20 blanks')
    .refine(
      isEachOnce<z.infer<typeof askedBlank>>((one) => one.quantity),
      { error: 'each quantity once' },
    )
    .meta({ title: 'Blanks asked', description: 'One of each in every run, with its limit.' }),
  reagents: z
    .array(
      titleSchema.meta({ title: 'Reagent', description: 'Its kind, as its lots are received.' }),
      'a list of reagents',
    )
    .max(20, 'at most 20 reagents')
    .refine(
      isEachOnce<string>((one) => one),
      { error: 'each reagent once' },
    )
    .meta({ title: 'Reagents asked', description: 'Kinds whose lot every run names.' }),
  greatestTitreAgeHours: z
    .number(titreAgeForm)
    .positive(titreAgeForm)
    .max(2000, titreAgeForm)
    .exactOptional()
    .meta({
      title: 'Greatest age of a titre',
      description: 'Until when a factor determined before may stand for standards in the run.',
      unit: 'h',
    }),
  cautions: z
    .array(
      z.string(cautionForm).min(3, cautionForm).max(500, cautionForm).meta({ title: 'Caution' }),
      'a list of cautions',
    )
    .max(20, 'at most 20 cautions')
    .meta({ title: 'Cautions', description: 'Shown where the method is carried out.' }),
  notes: z
    .string(notesForm)
    .max(4000, notesForm)
    .meta({ title: 'Notes', description: 'Where the procedure stands, and what is special.' }),
};

export const methodStated = z.strictObject({ ...methodFields, edition: z.int().min(1) });

export type MethodStated = z.infer<typeof methodStated>;
