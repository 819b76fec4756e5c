import { z } from 'zod';
import { budgetSchema } from './budget-parts.ts';
import { integerField, numberField } from './number-field.ts';

const reading = (title: string) =>
  numberField('reading', { least: -1e7, greatest: 1e7, unit: 'g' }).meta({ title, unit: 'g' });
const milligramField = (what: string) => numberField(what, { greatest: 1e6, unit: 'mg' });
const density = (what: string) =>
  numberField(`density of the ${what}`, { least: 500, greatest: 25_000, unit: 'kg/m³' }).meta({
    title: `Density of the ${what}`,
    unit: 'kg/m³',
  });
const densitySpread = (what: string, greatest: number) =>
  numberField('standard uncertainty', { greatest, unit: 'kg/m³' }).meta({
    title: `Standard uncertainty of the ${what}`,
    unit: 'kg/m³',
  });

const cycle = z.strictObject({
  firstReferenceGrams: reading('Reference, first'),
  firstUnknownGrams: reading('Unknown, first'),
  secondUnknownGrams: reading('Unknown, second'),
  secondReferenceGrams: reading('Reference, second'),
});

const buoyancyLimit = z.strictObject({
  kind: z.literal('limit').meta({ title: 'Kind' }),
  limitMilligrams: milligramField('limit').meta({
    title: 'Buoyancy not corrected, within plus or minus',
    unit: 'mg',
  }),
});

const buoyancyCorrected = z.strictObject({
  kind: z.literal('corrected').meta({ title: 'Kind' }),
  airDensityKilogramsPerCubicMetre: numberField('air density', {
    least: 0,
    greatest: 2,
    unit: 'kg/m³',
  }).meta({ title: 'Air density', unit: 'kg/m³' }),
  airDensityStandardUncertaintyKilogramsPerCubicMetre: densitySpread('air density', 0.2),
  referenceDensityKilogramsPerCubicMetre: density('reference'),
  referenceDensityStandardUncertaintyKilogramsPerCubicMetre: densitySpread(
    'density of the reference',
    2000,
  ),
  unknownDensityKilogramsPerCubicMetre: density('unknown'),
  unknownDensityStandardUncertaintyKilogramsPerCubicMetre: densitySpread(
    'density of the unknown',
    2000,
  ),
});

const pooled = z.strictObject({
  standardDeviationMilligrams: milligramField('standard deviation').meta({
    title: 'Pooled standard deviation of one cycle difference',
    unit: 'mg',
  }),
  degreesOfFreedom: integerField('number of degrees of freedom', 1, 1_000_000)
    .optional()
    .meta({ title: 'Its degrees of freedom', description: 'None takes it as known' }),
});

export const massComparisonInput = z
  .strictObject({
    reference: z
      .strictObject({
        conventionalMassGrams: numberField('conventional mass', {
          above: 0,
          greatest: 1e8,
          unit: 'g',
        }).meta({ title: 'Conventional mass of the reference', unit: 'g' }),
        expandedUncertaintyMilligrams: milligramField('expanded uncertainty').meta({
          title: 'Its expanded uncertainty',
          unit: 'mg',
        }),
        coverageFactor: numberField('coverage factor', { above: 0, greatest: 10 }).meta({
          title: 'Its coverage factor',
        }),
        driftLimitMilligrams: milligramField('drift limit').meta({
          title: 'Drift since its calibration, within plus or minus',
          unit: 'mg',
        }),
      })
      .meta({ title: 'Reference' }),
    cycles: z
      .array(cycle, { error: 'a list of 1 to 100 cycles' })
      .min(1, { error: 'at least one cycle' })
      .max(100, { error: 'at most 100 cycles' })
      .meta({
        title: 'Cycles',
        description: 'Reference, unknown, unknown, reference, at equal times',
      }),
    pooled: pooled.optional().meta({
      title: 'Earlier evaluation of the repeatability',
      description: 'None takes the spread of these cycles, of which there must be two or more',
    }),
    cornerLoadLimitMilligrams: milligramField('limit').meta({
      title: 'Corner load and magnetism, within plus or minus',
      unit: 'mg',
    }),
    buoyancy: z
      .discriminatedUnion('kind', [buoyancyLimit, buoyancyCorrected], {
        error: 'buoyancy of the kind limit or corrected',
      })
      .meta({ title: 'Buoyancy' }),
    levelPercent: numberField('coverage probability', {
      least: 50,
      greatest: 99.99,
      unit: '%',
    }).meta({ title: 'Coverage probability', description: '95.45 gives k = 2', unit: '%' }),
  })
  .superRefine((input, context) => {
    if (input.pooled !== undefined || input.cycles.length > 1) return;
    context.addIssue({
      code: 'custom',
      path: ['pooled'],
      message: 'an earlier evaluation of the repeatability, or two cycles or more',
    });
  });

export type MassComparisonInput = z.infer<typeof massComparisonInput>;

const milligrams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'mg', ...(description === undefined ? {} : { description }) });

export const massComparisonOutput = z.strictObject({
  differencesMilligrams: z
    .array(milligrams('Unknown less reference'))
    .meta({ title: 'Difference of each cycle' }),
  driftsMilligrams: z
    .array(milligrams('Drift from one reading to the next'))
    .meta({ title: 'Drift of the balance in each cycle' }),
  meanDifferenceMilligrams: milligrams('Mean difference'),
  cycleStandardDeviationMilligrams: z.number().nullable().meta({
    title: 'Standard deviation of these cycles',
    description: 'None for a single cycle',
    unit: 'mg',
  }),
  buoyancyCorrectionMilligrams: milligrams('Buoyancy correction', 'Added to the difference'),
  conventionalMassGrams: z.number().meta({ title: 'Conventional mass of the unknown', unit: 'g' }),
  errorMilligrams: milligrams('Unknown less reference, corrected'),
  standardUncertaintyMilligrams: milligrams('Standard uncertainty'),
  effectiveDegreesOfFreedom: z.number().nullable().meta({
    title: 'Effective degrees of freedom',
    description: 'None for infinitely many',
  }),
  coverageFactor: z.number().meta({ title: 'Coverage factor' }),
  expandedUncertaintyMilligrams: milligrams('Expanded uncertainty'),
  budget: budgetSchema('Budget', 'mg'),
  words: z.string().meta({ title: 'In words' }),
});

export type MassComparisonOutput = z.infer<typeof massComparisonOutput>;
