import { z } from 'zod';
import {
  confidenceField,
  nameField,
  nullableField,
  positiveField,
  ratioField,
  readingField,
  resultField,
  unitField,
  wordsField,
} from './precision-fields.ts';

const artefactWords = '1 to 200 check pieces';
const runWords = '1 to 100 runs';
const dayWords = '2 to 400 days';
const countWords = 'a whole number of readings from 2 to 1000';
const reportWords = 'a whole number of readings from 1 to 1000';

const day = z.strictObject({
  mean: readingField('Mean of the day'),
  standardDeviation: positiveField('Standard deviation of the readings of the day'),
  readingCount: z
    .int(countWords)
    .min(2, countWords)
    .max(1000, countWords)
    .meta({ title: 'Readings of the day' }),
});

export const repeatabilityLevelsInput = z.strictObject({
  characteristic: nameField('Characteristic'),
  unit: unitField,
  artefacts: z
    .array(
      z.strictObject({
        name: nameField('Check piece'),
        runs: z
          .array(
            z.strictObject({
              name: nameField('Run'),
              days: z
                .array(day, { error: dayWords })
                .min(2, dayWords)
                .max(400, dayWords)
                .meta({ title: 'Days' }),
            }),
            { error: runWords },
          )
          .min(1, runWords)
          .max(100, runWords)
          .meta({
            title: 'Runs',
            description: 'Weeks or months apart; 2 or more show their scatter',
          }),
      }),
      { error: artefactWords },
    )
    .min(1, artefactWords)
    .max(200, artefactWords)
    .meta({ title: 'Check pieces', description: 'Stable pieces, their results pooled' }),
  reportedReadingCount: z
    .int(reportWords)
    .min(1, reportWords)
    .max(1000, reportWords)
    .meta({ title: 'Readings in a reported mean', description: 'Made on one day' }),
  confidencePercent: confidenceField,
});

const level = (title: string, description: string) =>
  z
    .strictObject({
      standardDeviation: resultField('Standard deviation'),
      degreesOfFreedom: z.int().meta({ title: 'Degrees of freedom' }),
      lower: resultField('Lower end'),
      upper: resultField('Upper end'),
    })
    .meta({ title, description });

export const repeatabilityLevelsOutput = z.strictObject({
  readings: level('Readings of one day', 'Pooled standard deviation'),
  days: level('Means of days within a run', 'The readings behind each mean are in it'),
  runs: level('Means of runs', 'The days behind each mean are in it')
    .nullable()
    .meta({ title: 'Means of runs', description: 'None for single runs' }),
  dayComponent: resultField('Days alone', 'In the stated unit; 0 where it came out negative'),
  runComponent: nullableField('Runs alone', '0 where it came out negative; none for single runs'),
  readingsPerDay: ratioField('Readings per day', 'Harmonic mean'),
  daysPerRun: ratioField('Days per run', 'Harmonic mean'),
  reportedStandardUncertainty: resultField(
    'Standard uncertainty of a reported mean from these sources',
    'In the stated unit',
  ),
  reportedDegreesOfFreedom: ratioField('Its degrees of freedom', 'By Satterthwaite'),
  words: wordsField,
});

export type RepeatabilityLevelsInput = z.infer<typeof repeatabilityLevelsInput>;
export type RepeatabilityLevelsOutput = z.infer<typeof repeatabilityLevelsOutput>;
