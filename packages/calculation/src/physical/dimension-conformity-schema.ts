import { z } from 'zod';
import { hasUniqueLabels, labelField, numberField } from '../mass/number-field.ts';

const rules = ['expanded uncertainty', 'probability 95 %'] as const;
export const verdicts = ['conforms', 'undecided', 'does not conform'] as const;

const millimetres = (what: string) => numberField(what, { least: -1e5, greatest: 1e5, unit: 'mm' });

const dimension = z.strictObject({
  label: labelField().meta({
    title: 'Dimension',
    description: 'Diameter, thickness, edge height',
  }),
  readingsMillimetres: z
    .array(millimetres('reading').meta({ title: 'Reading', unit: 'mm' }), {
      error: 'a list of 1 to 100 readings',
    })
    .min(1, { error: 'at least one reading' })
    .max(100, { error: 'at most 100 readings' })
    .meta({
      title: 'Readings',
      description: 'One per place; each of them must keep the limits',
      unit: 'mm',
    }),
  lowerLimitMillimetres: millimetres('limit').optional().meta({
    title: 'Lower limit',
    description: 'None for no lower limit',
    unit: 'mm',
  }),
  upperLimitMillimetres: millimetres('limit').optional().meta({
    title: 'Upper limit',
    description: 'None for no upper limit',
    unit: 'mm',
  }),
  standardUncertaintyMillimetres: numberField('standard uncertainty', {
    above: 0,
    greatest: 100,
    unit: 'mm',
  }).meta({
    title: 'Standard uncertainty of one reading',
    description: 'Of the gauge and its use',
    unit: 'mm',
  }),
});

export const dimensionConformityInput = z.strictObject({
  rule: z.enum(rules, { error: `one of ${rules.join(', ')}` }).meta({
    title: 'Decision rule',
    description:
      'Expanded uncertainty: the limits less U, k = 2 (ISO 14253-1:1998); probability 95 %: that of conforming, or of not conforming (ISO 14253-1:2017)',
  }),
  dimensions: z
    .array(dimension, { error: 'a list of 1 to 20 dimensions' })
    .min(1, { error: 'at least one dimension' })
    .max(20, { error: 'at most 20 dimensions' })
    .refine(hasUniqueLabels, { error: 'dimensions with different labels' })
    .meta({ title: 'Dimensions' }),
});

export type DimensionConformityInput = z.infer<typeof dimensionConformityInput>;

const length = (title: string) => z.number().meta({ title, unit: 'mm' });

export const dimensionConformityOutput = z.strictObject({
  dimensions: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Dimension' }),
        smallestMillimetres: length('Smallest reading'),
        largestMillimetres: length('Largest reading'),
        worstMillimetres: z.number().meta({
          title: 'Reading that decides',
          description: 'The one least likely to conform',
          unit: 'mm',
        }),
        conformanceProbability: z.number().meta({
          title: 'Probability that the place conforms',
          description: 'For that reading, from its uncertainty alone',
        }),
        uncertaintyRatioPercent: z.number().nullable().meta({
          title: 'Expanded uncertainty over tolerance',
          description: 'A tenth is good, a third poor; none for one limit',
          unit: '%',
        }),
        verdict: z.enum(verdicts).meta({ title: 'Verdict' }),
      }),
    )
    .meta({ title: 'Dimensions' }),
  verdict: z
    .enum(verdicts)
    .meta({ title: 'Verdict on the piece', description: 'The worst of all' }),
  words: z.string().meta({ title: 'In words' }),
});

export type DimensionConformityOutput = z.infer<typeof dimensionConformityOutput>;
