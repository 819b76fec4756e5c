import { z } from 'zod';
import { budgetSchema } from '../mass/budget-parts.ts';
import { hasUniqueLabels, labelField, numberField } from '../mass/number-field.ts';

const spacingGroups = ['steel and copper alloys', 'light metals, lead and tin'] as const;

const millimetres = (what: string, greatest: number) =>
  numberField(what, { above: 0, greatest, unit: 'mm' });

const indentation = z.strictObject({
  label: labelField(),
  firstDiagonalMillimetres: millimetres('diagonal', 10).meta({
    title: 'First diagonal',
    unit: 'mm',
  }),
  secondDiagonalMillimetres: millimetres('diagonal', 10).meta({
    title: 'Second diagonal',
    unit: 'mm',
  }),
  edgeDistanceMillimetres: millimetres('distance', 1000).optional().meta({
    title: 'Distance of its centre from the edge',
    description: 'None leaves it unjudged',
    unit: 'mm',
  }),
  neighbourDistanceMillimetres: millimetres('distance', 1000).optional().meta({
    title: 'Distance of its centre from that of the nearest indentation',
    description: 'None leaves it unjudged',
    unit: 'mm',
  }),
  neighbourDiagonalMillimetres: millimetres('diagonal', 10).optional().meta({
    title: 'Mean diagonal of that indentation',
    description: 'The larger of the two counts; none takes this one',
    unit: 'mm',
  }),
});

export const vickersInput = z.strictObject({
  testForceNewtons: numberField('test force', { above: 0, greatest: 2000, unit: 'N' }).meta({
    title: 'Test force',
    description: '0.9807 N for HV 0.1, 4.903 N for HV 0.5, 9.807 N for HV 1, 49.03 N for HV 5',
    unit: 'N',
  }),
  indentations: z
    .array(indentation, { error: 'a list of 1 to 200 indentations' })
    .min(1, { error: 'at least one indentation' })
    .max(200, { error: 'at most 200 indentations' })
    .refine(hasUniqueLabels, { error: 'indentations with different labels' })
    .meta({ title: 'Indentations' }),
  spacingGroup: z.enum(spacingGroups, { error: `one of ${spacingGroups.join('; ')}` }).meta({
    title: 'Rule for distances',
    description:
      'The standard names neither gold nor silver: copper alloys for hard struck metal, light metals for soft annealed metal are the usual readings',
  }),
  thicknessMillimetres: millimetres('thickness', 1000).optional().meta({
    title: 'Thickness of the piece',
    description: 'None leaves it unjudged',
    unit: 'mm',
  }),
  diagonalStandardUncertaintyMillimetres: numberField('standard uncertainty', {
    greatest: 0.1,
    unit: 'mm',
  }).meta({
    title: 'Standard uncertainty of a mean diagonal',
    description: 'Of the microscope and of reading it; 0.0005 mm is seldom bettered',
    unit: 'mm',
  }),
  forceRelativeStandardUncertaintyPercent: numberField('relative standard uncertainty', {
    greatest: 20,
    unit: '%',
  }).meta({ title: 'Relative standard uncertainty of the force', unit: '%' }),
  lowerLimitHardness: numberField('hardness', { above: 0, greatest: 5000 })
    .optional()
    .meta({ title: 'Lower limit of the hardness', description: 'None for no lower limit' }),
  upperLimitHardness: numberField('hardness', { above: 0, greatest: 5000 })
    .optional()
    .meta({ title: 'Upper limit of the hardness', description: 'None for no upper limit' }),
});

export type VickersInput = z.infer<typeof vickersInput>;

const hardness = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'HV', ...(description === undefined ? {} : { description }) });
const judged = (title: string) =>
  z.boolean().nullable().meta({ title, description: 'None when it was not given' });

export const vickersOutput = z.strictObject({
  indentations: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Label' }),
        meanDiagonalMillimetres: z.number().meta({ title: 'Mean diagonal', unit: 'mm' }),
        hardness: hardness('Hardness'),
        diagonalDifferencePercent: z.number().meta({
          title: 'Difference of the diagonals',
          description: 'In percent of their mean',
          unit: '%',
        }),
        isSymmetric: z.boolean().meta({ title: 'Diagonals differ by at most 5 %' }),
        isThickEnough: judged('Thickness is at least one and a half diagonals'),
        isFarFromEdge: judged('Far enough from the edge'),
        isFarFromNeighbour: judged('Far enough from the neighbour'),
        isValid: z.boolean().meta({ title: 'No rule of distance or thickness is broken' }),
      }),
    )
    .meta({ title: 'Indentations' }),
  meanHardness: hardness('Mean hardness', 'Of all indentations given'),
  standardDeviation: z.number().nullable().meta({
    title: 'Standard deviation',
    description: 'None for a single indentation',
    unit: 'HV',
  }),
  intervalLower: z.number().nullable().meta({
    title: 'Lower end of the 95 % interval of the mean',
    description: 'From the spread alone; none for a single indentation',
    unit: 'HV',
  }),
  intervalUpper: z.number().nullable().meta({
    title: 'Upper end of the 95 % interval of the mean',
    unit: 'HV',
  }),
  standardUncertainty: hardness('Standard uncertainty of the mean', 'Spread, diagonals and force'),
  expandedUncertainty: hardness('Expanded uncertainty', 'k = 2'),
  budget: budgetSchema('Budget of the mean', 'HV'),
  greatestForceNewtons: z.number().nullable().meta({
    title: 'Greatest force for this thickness',
    description: 'At the mean hardness; none without a thickness',
    unit: 'N',
  }),
  isWithinLimits: z.boolean().nullable().meta({
    title: 'Mean hardness keeps its limits',
    description: 'Uncertainty not counted; none without limits',
  }),
  words: z.string().meta({ title: 'In words' }),
});

export type VickersOutput = z.infer<typeof vickersOutput>;
