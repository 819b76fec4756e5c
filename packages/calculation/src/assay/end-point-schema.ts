import { z } from 'zod';
import { confidenceField, listField, numberField, outputNumber, wordsField } from './fields.ts';

const volumeUnit = 'mL';

const startVolume = (description: string) =>
  numberField('a volume', 0.01, 10_000, volumeUnit).meta({
    title: 'Volume before the titration',
    description,
    unit: volumeUnit,
  });

const temperature = () =>
  numberField('a temperature', 0, 100, '°C').meta({ title: 'Temperature', unit: '°C' });

const efficiency = () =>
  numberField('a share', 0.5, 1.2).meta({
    title: 'Slope of the electrode over that of Nernst',
    description: '1 for an electrode that follows the equation',
  });

const endPointMethod = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('second derivative').meta({ title: 'Kind' }),
    windowPoints: z
      .int({ error: 'a whole number from 4 to 7' })
      .min(4, { error: 'a whole number from 4 to 7' })
      .max(7, { error: 'a whole number from 4 to 7' })
      .meta({
        title: 'Points in the window',
        description:
          '4 is the classical rule; a few more suit noisy, closely and evenly read curves',
      }),
  }),
  z.strictObject({ kind: z.literal('smoothing spline').meta({ title: 'Kind' }) }),
  z.strictObject({
    kind: z.literal('precipitation curve').meta({ title: 'Kind' }),
    startVolumeMillilitres: startVolume('Of the solution that is titrated'),
    electrode: z
      .discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('fitted').meta({ title: 'Kind' }) }),
        z.strictObject({
          kind: z.literal('stated').meta({ title: 'Kind' }),
          temperatureDegreesCelsius: temperature(),
          slopeShare: efficiency(),
        }),
      ])
      .meta({ title: 'Slope of the electrode', description: 'Found from the curve, or stated' }),
  }),
  z.strictObject({
    kind: z.literal('Gran').meta({ title: 'Kind' }),
    side: z.enum(['before', 'after'], { error: 'before or after' }).meta({
      title: 'Side',
      description: 'Whether the points lie before or after the end point',
    }),
    potential: z.enum(['rises', 'falls'], { error: 'rises or falls' }).meta({
      title: 'Potential with the ion in excess',
      description: 'rises for silver or hydrogen ions, falls for halides',
    }),
    startVolumeMillilitres: startVolume(
      'Of the solution that is titrated; masses in grams may stand for volumes throughout',
    ),
    temperatureDegreesCelsius: temperature(),
    slopeShare: efficiency(),
    weighting: z.enum(['equal', 'potential'], { error: 'equal or potential' }).meta({
      title: 'Weighting',
      description:
        'potential: as an equal scatter of the potentials asks for; equal: as by a ruler',
    }),
  }),
]);

export const endPointInput = z
  .strictObject({
    curve: listField(
      z.strictObject({
        volumeMillilitres: numberField('a volume', 0, 10_000, volumeUnit).meta({
          title: 'Titrant added',
          unit: volumeUnit,
        }),
        potentialMillivolts: numberField('a potential', -10_000, 10_000, 'mV').meta({
          title: 'Potential',
          unit: 'mV',
        }),
      }),
      'points',
      8,
      5000,
    ).meta({ title: 'Curve', description: 'In the order of the volumes; steps may be uneven' }),
    method: endPointMethod.meta({ title: 'Method' }),
    potentialStandardUncertaintyMillivolts: numberField('a standard uncertainty', 0.000001, 1000)
      .optional()
      .meta({
        title: 'Scatter of one potential',
        description: 'Standard deviation; none takes it from the curve itself',
        unit: 'mV',
      }),
    volumeStandardUncertaintyMillilitres: numberField('a standard uncertainty', 0, 10).meta({
      title: 'Standard uncertainty of the volume delivered',
      description: 'Of the burette, at the end point',
      unit: volumeUnit,
    }),
    confidencePercent: confidenceField(),
  })
  .superRefine((input, context) => {
    for (const [index, point] of input.curve.entries()) {
      const before = input.curve[index - 1];
      if (before !== undefined && point.volumeMillilitres <= before.volumeMillilitres) {
        context.addIssue({
          code: 'custom',
          path: ['curve', index, 'volumeMillilitres'],
          message: 'a volume above the one before it',
        });
      }
    }
  });

export type EndPointInput = z.infer<typeof endPointInput>;

const millilitres = (title: string, description?: string) =>
  outputNumber(title, volumeUnit, description);

export const endPointOutput = z.strictObject({
  endPointMillilitres: millilitres('End point'),
  standardUncertaintyMillilitres: millilitres('Standard uncertainty'),
  lowerMillilitres: millilitres('Lower limit', 'At the level of confidence'),
  upperMillilitres: millilitres('Upper limit', 'At the level of confidence'),
  parts: z
    .strictObject({
      scatterMillilitres: millilitres('From the scatter of the potentials'),
      stepsMillilitres: millilitres('From the steps being coarse'),
      volumeMillilitres: millilitres('From the burette'),
    })
    .meta({ title: 'Parts of the standard uncertainty' }),
  slopeMillivoltsPerMillilitre: z.number().nullable().meta({
    title: 'Slope at the end point',
    description: 'None for the method of Gran',
    unit: 'mV/mL',
  }),
  potentialDeviationMillivolts: outputNumber('Scatter of one potential', 'mV'),
  degreesOfFreedom: z.number().nullable().meta({
    title: 'Degrees of freedom',
    description: 'None where the normal distribution was used',
  }),
  words: wordsField(),
});

export type EndPointOutput = z.infer<typeof endPointOutput>;
