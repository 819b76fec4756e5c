import { z } from 'zod';
import {
  confidenceField,
  nameField,
  nullableField,
  ratioField,
  wordsField,
} from './precision-fields.ts';

const categoriesWords = '2 to 50 categories';
const itemsWords = '2 to 20000 items';
const judgementWords = '1 to 200 judgements';
const weightWords = 'one of none, linear, quadratic';
const faultWords = 'at most 49 of the categories';

export const inspectorAgreementInput = z.strictObject({
  categories: z
    .array(nameField('Category'), { error: categoriesWords })
    .min(2, categoriesWords)
    .max(50, categoriesWords)
    .meta({ title: 'Categories', description: 'From best to worst where they have an order' }),
  faultCategories: z
    .array(nameField('Fault category'), { error: faultWords })
    .max(49, faultWords)
    .meta({
      title: 'Categories that mean a fault',
      description: 'For misses and false alarms; may be empty',
    }),
  items: z
    .array(
      z.strictObject({
        name: nameField('Item'),
        standard: nameField('Known category').optional(),
        judgements: z
          .array(
            z.strictObject({
              inspector: nameField('Inspector'),
              category: nameField('Category'),
            }),
            { error: judgementWords },
          )
          .min(1, judgementWords)
          .max(200, judgementWords)
          .meta({
            title: 'Judgements',
            description: 'Several of one inspector are repeats, in their order',
          }),
      }),
      { error: itemsWords },
    )
    .min(2, itemsWords)
    .max(20000, itemsWords)
    .meta({ title: 'Items' }),
  weights: z.enum(['none', 'linear', 'quadratic'], weightWords).meta({
    title: 'Weights of disagreement',
    description: 'None: all the same; linear or quadratic where categories have an order',
  }),
  confidencePercent: confidenceField,
});

const share = (title: string, description: string) =>
  z
    .strictObject({
      count: z.int().meta({ title: 'Counted' }),
      of: z.int().meta({ title: 'Of' }),
      percent: ratioField('Share, %'),
      lowerPercent: ratioField('Lower end, %', 'Exact interval of Clopper and Pearson'),
      upperPercent: ratioField('Upper end, %', 'Exact interval of Clopper and Pearson'),
    })
    .nullable()
    .meta({ title, description });

const kappa = {
  kappa: nullableField('Kappa', 'None where chance alone would make everyone agree'),
  standardError: nullableField('Standard error', 'Large-sample; none with kappa'),
  lower: nullableField('Lower end', 'Normal interval at the confidence; none with kappa'),
  upper: nullableField('Upper end', 'Normal interval at the confidence; none with kappa'),
  standardErrorNull: nullableField('Standard error without agreement', 'For the test against 0'),
  z: nullableField('z', 'Kappa over the standard error without agreement'),
  probability: nullableField('Probability', 'Two-sided, of such a kappa without agreement'),
};

const fleiss = {
  kappa: nullableField('Kappa', 'None where chance alone would make everyone agree'),
  standardErrorNull: nullableField('Standard error without agreement', 'For the test against 0'),
  z: nullableField('z', 'Kappa over that standard error'),
  probability: nullableField('Probability', 'Two-sided, of such a kappa without agreement'),
};

export const inspectorAgreementOutput = z.strictObject({
  itemCount: z.int().meta({ title: 'Items' }),
  inspectors: z
    .array(
      z.strictObject({
        inspector: z.string().meta({ title: 'Inspector' }),
        withinSelf: share('Agrees with himself', 'Items judged alike in every repeat'),
        withStandard: share('Effectiveness', 'Items judged as the standard in every repeat'),
        misses: share('Misses', 'Judgements without fault on items known to have one'),
        falseAlarms: share('False alarms', 'Judgements of a fault on items known to have none'),
        standardKappa: z.strictObject(kappa).nullable().meta({
          title: 'Kappa against the standard',
          description: 'Every judgement counts once',
        }),
      }),
    )
    .meta({ title: 'Inspectors' }),
  betweenInspectors: share('All agree', 'Items that every judgement puts in the same category'),
  allWithStandard: share('All agree with the standard', 'Every judgement as the standard'),
  pairs: z
    .array(
      z.strictObject({
        first: z.string().meta({ title: 'First inspector' }),
        second: z.string().meta({ title: 'Second inspector' }),
        ...kappa,
      }),
    )
    .meta({ title: "Cohen's kappa of two inspectors", description: 'Repeats compared in order' }),
  fleiss: z
    .strictObject({
      judgementsPerItem: z.int().meta({ title: 'Judgements per item' }),
      ...fleiss,
      byCategory: z
        .array(z.strictObject({ category: z.string().meta({ title: 'Category' }), ...fleiss }))
        .meta({ title: 'By category' }),
    })
    .nullable()
    .meta({
      title: "Fleiss' kappa of all judgements",
      description: 'None unless every item has the same number of judgements, two at least',
    }),
  words: wordsField,
});

export type InspectorAgreementInput = z.infer<typeof inspectorAgreementInput>;
export type InspectorAgreementOutput = z.infer<typeof inspectorAgreementOutput>;
export type CountedShare = NonNullable<InspectorAgreementOutput['betweenInspectors']>;
