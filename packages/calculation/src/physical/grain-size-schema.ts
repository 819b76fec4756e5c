import { z } from 'zod';
import { numberField } from '../mass/number-field.ts';

const halves = (what: string) => {
  const error = `a ${what} of 0 or more in steps of one half`;
  return z
    .number({ error })
    .min(0, { error })
    .max(1_000_000, { error })
    .refine((count) => Number.isInteger(2 * count), { error });
};

const fieldList = <Field extends z.ZodType>(field: Field) =>
  z
    .array(field, { error: 'a list of 1 to 200 fields' })
    .min(1, { error: 'at least one field' })
    .max(200, { error: 'at most 200 fields' })
    .meta({ title: 'Fields', description: 'Five or more, chosen blindly, are usual' });

const intercepts = z.strictObject({
  method: z.literal('intercepts').meta({ title: 'Method' }),
  fields: fieldList(
    z.strictObject({
      lineLengthMillimetres: numberField('length', {
        above: 0,
        greatest: 1e6,
        unit: 'mm',
      }).meta({ title: 'Length of the test lines', description: 'On the picture', unit: 'mm' }),
      intercepts: halves('number of intercepts').meta({
        title: 'Intercepts',
        description: 'Grains crossed; a line end within a grain and a tangent count one half',
      }),
    }),
  ),
});

const planimetric = z.strictObject({
  method: z.literal('planimetric').meta({ title: 'Method' }),
  shape: z.enum(['circle', 'rectangle'], { error: 'circle or rectangle' }).meta({
    title: 'Shape of the test area',
    description: 'Grains on its edge count one half; a rectangle adds one grain for its corners',
  }),
  fields: fieldList(
    z.strictObject({
      areaSquareMillimetres: numberField('area', {
        above: 0,
        greatest: 1e8,
        unit: 'mm²',
      }).meta({ title: 'Test area', description: 'On the picture', unit: 'mm²' }),
      grainsInside: halves('number of grains').meta({ title: 'Grains wholly inside' }),
      grainsOnEdge: halves('number of grains').meta({
        title: 'Grains cut by the edge',
        description: 'In a rectangle without those at its corners',
      }),
    }),
  ),
});

export const grainSizeInput = z.strictObject({
  count: z
    .discriminatedUnion('method', [intercepts, planimetric], {
      error: 'counts of the method intercepts or planimetric',
    })
    .meta({ title: 'Counts' }),
  magnification: numberField('magnification', { above: 0, greatest: 100_000 }).meta({
    title: 'Magnification',
    description: 'Of the picture on which length or area was taken',
  }),
  lowerLimitGrainSize: numberField('grain size number', { least: -5, greatest: 20 })
    .optional()
    .meta({ title: 'Coarsest grain allowed', description: 'Least number G; none for no limit' }),
  upperLimitGrainSize: numberField('grain size number', { least: -5, greatest: 20 })
    .optional()
    .meta({ title: 'Finest grain allowed', description: 'Greatest number G; none for no limit' }),
});

export type GrainSizeInput = z.infer<typeof grainSizeInput>;

const none = 'None for a single field';

export const grainSizeOutput = z.strictObject({
  grainSize: z.number().meta({ title: 'Grain size number G' }),
  grainSizeLower: z.number().nullable().meta({
    title: 'Lower end of the 95 % interval of G',
    description: 'None for a single field, or when the interval of the counts reaches 0',
  }),
  grainSizeUpper: z
    .number()
    .nullable()
    .meta({ title: 'Upper end of the 95 % interval of G', description: none }),
  relativeAccuracyPercent: z
    .number()
    .nullable()
    .meta({
      title: 'Relative accuracy',
      description: `95 % half width of the mean count in percent of it. ${none}`,
      unit: '%',
    }),
  isAccurateEnough: z.boolean().nullable().meta({
    title: 'Relative accuracy is 10 % or better',
    description: none,
  }),
  meanInterceptMillimetres: z.number().nullable().meta({
    title: 'Mean lineal intercept',
    description: 'None for the planimetric method',
    unit: 'mm',
  }),
  grainsPerSquareMillimetre: z.number().meta({
    title: 'Grains per square millimetre',
    description: 'From the intercepts by way of G',
    unit: '1/mm²',
  }),
  meanGrainAreaSquareMicrometres: z.number().meta({ title: 'Mean grain area', unit: 'µm²' }),
  meanCount: z.number().meta({
    title: 'Mean count',
    description: 'Intercepts per mm of line, or grains per mm² of area, on the metal',
  }),
  countStandardDeviation: z
    .number()
    .nullable()
    .meta({ title: 'Standard deviation of the counts', description: none }),
  isWithinLimits: z.boolean().nullable().meta({
    title: 'Grain size keeps its limits',
    description: 'The interval not counted; none without limits',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type GrainSizeOutput = z.infer<typeof grainSizeOutput>;
