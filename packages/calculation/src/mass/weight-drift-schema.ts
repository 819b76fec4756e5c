import { z } from 'zod';
import { numberField } from './number-field.ts';

const date = (what: string) => {
  const error = `a ${what} as year-month-day, such as 2024-03-31`;
  return z.iso.date({ error });
};

export const weightDriftInput = z.strictObject({
  history: z
    .array(
      z.strictObject({
        date: date('date').meta({ title: 'Date' }),
        errorMilligrams: numberField('error', { least: -1e6, greatest: 1e6, unit: 'mg' }).meta({
          title: 'Error',
          description: 'Conventional mass less nominal mass, or check reading less its target',
          unit: 'mg',
        }),
      }),
      { error: 'a list of 3 to 1000 calibrations' },
    )
    .min(3, { error: 'at least three calibrations' })
    .max(1000, { error: 'at most 1000 calibrations' })
    .meta({ title: 'History', description: 'In any order' }),
  nextDate: date('date').meta({
    title: 'Next calibration',
    description: 'Date for which the error is foretold',
  }),
  levelPercent: numberField('confidence level', { least: 50, greatest: 99.99, unit: '%' }).meta({
    title: 'Confidence level',
    description: '95 is usual; a jump is called at the rest, 5 %',
    unit: '%',
  }),
  limitMilligrams: numberField('limit', { above: 0, greatest: 1e6, unit: 'mg' }).optional().meta({
    title: 'Limit of the error',
    description: 'Plus or minus; none leaves it unjudged',
    unit: 'mg',
  }),
});

export type WeightDriftInput = z.infer<typeof weightDriftInput>;

const milligrams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'mg', ...(description === undefined ? {} : { description }) });
const perYear = (title: string) => z.number().meta({ title, unit: 'mg/a' });

export const weightDriftOutput = z.strictObject({
  driftMilligramsPerYear: perYear('Drift'),
  driftLowerMilligramsPerYear: perYear('Lower end of the drift'),
  driftUpperMilligramsPerYear: perYear('Upper end of the drift'),
  isDriftShown: z.boolean().meta({ title: 'The drift differs from nil' }),
  residualStandardDeviationMilligrams: milligrams('Standard deviation about the line'),
  nextErrorMilligrams: milligrams('Error foretold for the next calibration'),
  nextLowerMilligrams: milligrams('Lower end for the next calibration'),
  nextUpperMilligrams: milligrams('Upper end for the next calibration'),
  isNextWithinLimit: z.boolean().nullable().meta({
    title: 'Next calibration keeps the limit',
    description: 'The whole interval lies within; none without a limit',
  }),
  latestErrorMilligrams: milligrams('Latest error'),
  latestForetoldMilligrams: z.number().nullable().meta({
    title: 'Latest error as the earlier ones foretold it',
    description: 'None when fewer than three others at two dates are left',
    unit: 'mg',
  }),
  isLatestForeseen: z.boolean().nullable().meta({
    title: 'The latest error lies within what the earlier ones foretold',
    description: 'None when it could not be foretold',
  }),
  jumpDate: z.string().nullable().meta({
    title: 'First date after the likeliest jump',
    description: 'None when there are too few calibrations',
  }),
  jumpMilligrams: z.number().nullable().meta({ title: 'Size of that jump', unit: 'mg' }),
  jumpProbability: z.number().nullable().meta({
    title: 'Probability of so clear a jump by chance',
    description: 'Bounded by the number of places where it was looked for',
  }),
  isJumpShown: z.boolean().nullable().meta({ title: 'A jump is shown' }),
  words: z.string().meta({ title: 'In words' }),
});

export type WeightDriftOutput = z.infer<typeof weightDriftOutput>;
