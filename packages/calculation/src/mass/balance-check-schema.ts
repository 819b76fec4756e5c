import { z } from 'zod';
import { numberField } from './number-field.ts';

const grams = (what: string) => numberField(what, { above: 0, greatest: 1e7, unit: 'g' });
const limit = (what: string) => numberField(what, { greatest: 1e6, unit: 'mg' });
const readings = (least: number, greatest: number) =>
  z
    .array(grams('reading').meta({ title: 'Reading', unit: 'g' }), {
      error: `a list of ${least} to ${greatest} readings`,
    })
    .min(least, { error: `at least ${least} readings` })
    .max(greatest, { error: `at most ${greatest} readings` });

const repeatability = z.strictObject({
  readingsGrams: readings(2, 100).meta({
    title: 'Readings of one load',
    description: 'Ten are usual; the load is taken off between them',
    unit: 'g',
  }),
  limitMilligrams: limit('limit on the standard deviation').meta({
    title: 'Limit on the standard deviation',
    unit: 'mg',
  }),
});

const cornerLoad = z.strictObject({
  centreReadingGrams: grams('reading').meta({
    title: 'Reading in the middle of the pan',
    unit: 'g',
  }),
  cornerReadingsGrams: readings(1, 12).meta({
    title: 'Readings off the middle',
    description: 'The same load, about a third of the capacity, near each corner',
    unit: 'g',
  }),
  limitMilligrams: limit('limit on the difference').meta({
    title: 'Limit on the difference from the middle',
    unit: 'mg',
  }),
});

const linearity = z.strictObject({
  points: z
    .array(
      z.strictObject({
        referenceGrams: grams('reference mass').meta({
          title: 'Reference',
          description: 'Conventional mass of the weight',
          unit: 'g',
        }),
        readingGrams: grams('reading').meta({ title: 'Reading', unit: 'g' }),
      }),
      { error: 'a list of 2 to 50 points' },
    )
    .min(2, { error: 'at least two points' })
    .max(50, { error: 'at most 50 points' })
    .meta({ title: 'Points' }),
  errorLimitMilligrams: limit('limit on the error').meta({
    title: 'Limit on the error of indication',
    unit: 'mg',
  }),
  linearityLimitMilligrams: limit('limit on the departure from the line').optional().meta({
    title: 'Limit on the departure from the line',
    description: 'None leaves it unjudged',
    unit: 'mg',
  }),
});

const temperature = z.strictObject({
  referenceGrams: grams('reference mass').meta({ title: 'Reference', unit: 'g' }),
  points: z
    .array(
      z.strictObject({
        temperatureCelsius: numberField('temperature', {
          least: -20,
          greatest: 60,
          unit: '°C',
        }).meta({ title: 'Temperature', unit: '°C' }),
        readingGrams: grams('reading').meta({ title: 'Reading', unit: 'g' }),
      }),
      { error: 'a list of 2 to 100 points' },
    )
    .min(2, { error: 'at least two points' })
    .max(100, { error: 'at most 100 points' })
    .meta({ title: 'Points' }),
  limitPartsPerMillionPerKelvin: numberField('limit on the drift of sensitivity', {
    greatest: 10_000,
    unit: 'ppm/K',
  }).meta({ title: 'Limit on the drift of sensitivity', unit: 'ppm/K' }),
});

export const balanceCheckInput = z
  .strictObject({
    scaleIntervalMilligrams: numberField('scale interval', {
      above: 0,
      greatest: 1e6,
      unit: 'mg',
    }).meta({ title: 'Scale interval', description: 'Last step of the display', unit: 'mg' }),
    repeatability: repeatability.optional().meta({ title: 'Repeatability' }),
    cornerLoad: cornerLoad.optional().meta({ title: 'Corner load' }),
    linearity: linearity.optional().meta({ title: 'Linearity' }),
    temperature: temperature.optional().meta({ title: 'Sensitivity with temperature' }),
  })
  .superRefine((input, context) => {
    const { repeatability: repeat, cornerLoad: corner, linearity: line, temperature: warm } = input;
    if (repeat || corner || line || warm) return;
    context.addIssue({
      code: 'custom',
      path: ['repeatability'],
      message: 'at least one of repeatability, cornerLoad, linearity and temperature',
    });
  });

export type BalanceCheckInput = z.infer<typeof balanceCheckInput>;

const milligrams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'mg', ...(description === undefined ? {} : { description }) });
const passes = (title = 'Passes') => z.boolean().meta({ title });

export const balanceCheckOutput = z.strictObject({
  repeatability: z
    .strictObject({
      standardDeviationMilligrams: milligrams('Standard deviation'),
      rangeMilligrams: milligrams('Range', 'Largest less smallest reading'),
      passes: passes(),
    })
    .nullable(),
  cornerLoad: z
    .strictObject({
      differencesMilligrams: z.array(milligrams('Difference from the middle')),
      greatestDifferenceMilligrams: milligrams('Greatest difference', 'In size, from the middle'),
      passes: passes(),
    })
    .nullable(),
  linearity: z
    .strictObject({
      errorsMilligrams: z.array(milligrams('Error of indication', 'Reading less reference')),
      greatestErrorMilligrams: milligrams('Greatest error', 'In size'),
      sensitivityErrorPartsPerMillion: z.number().meta({
        title: 'Sensitivity error',
        description: 'Slope of the line through zero and the errors',
        unit: 'ppm',
      }),
      departuresMilligrams: z.array(milligrams('Departure from that line')),
      greatestDepartureMilligrams: milligrams('Greatest departure', 'In size'),
      passesError: passes('Errors pass'),
      passesLinearity: z.boolean().nullable().meta({
        title: 'Linearity passes',
        description: 'None when no limit was given',
      }),
    })
    .nullable(),
  temperature: z
    .strictObject({
      driftPartsPerMillionPerKelvin: z
        .number()
        .meta({ title: 'Drift of sensitivity', unit: 'ppm/K' }),
      passes: passes(),
    })
    .nullable(),
  passes: passes('Every check that was made passes'),
  words: z.string().meta({ title: 'In words' }),
});

export type BalanceCheckOutput = z.infer<typeof balanceCheckOutput>;
