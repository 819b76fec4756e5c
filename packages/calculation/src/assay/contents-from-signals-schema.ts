import { z } from 'zod';
import {
  elementField,
  hasUniqueLabels,
  integerField,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';

const signalUnit = 'counts/s';
const contentUnit = 'mg/kg';
const sensitivityUnit = 'counts/s per mg/kg';

const signal = () =>
  numberField('a signal', -1e12, 1e12).meta({ title: 'Signal', unit: signalUnit });
const order = () =>
  integerField('a place in the run', 1, 1_000_000).meta({
    title: 'Place in the run',
    description: 'Counted from 1 in the order of measuring',
  });
const signals = (title: string, least: number, most: number) =>
  listField(signal(), 'signals', least, most).meta({ title, unit: signalUnit });

const weightings = ['equal', 'relative'] as const;

export const contentsFromSignalsInput = z.strictObject({
  element: elementField(),
  weighting: z.enum(weightings, { error: `one of ${weightings.join(', ')}` }).meta({
    title: 'Weighting',
    description:
      'equal: all signals spread alike; relative: as the repeated signals of each standard do',
  }),
  standards: listField(
    z.strictObject({
      label: labelField('Standard'),
      contentMilligramsPerKilogram: numberField('a content', 0, 1_000_000, contentUnit).meta({
        title: 'Content',
        unit: contentUnit,
      }),
      signals: signals('Signals', 1, 50),
    }),
    'standards',
    2,
    40,
  )
    .refine(hasUniqueLabels, { error: 'standards with different labels' })
    .meta({ title: 'Calibration standards' }),
  standardRelativeUncertaintyPercent: numberField('a relative uncertainty', 0, 50, '%').meta({
    title: 'Relative standard uncertainty of the standards',
    description: 'One error for all of them, which their line does not show',
    unit: '%',
  }),
  blankSignals: signals('Signals of reagent blanks', 0, 100),
  drift: listField(
    z.strictObject({ order: order(), signals: signals('Signals', 1, 50) }),
    'readings of the drift standard',
    0,
    100,
  )
    .refine((all) => all.length !== 1, { error: 'none, or at least two that stand around samples' })
    .meta({
      title: 'Drift standard',
      description: 'The first reading belongs to the calibration; none: no drift is taken off',
    }),
  solutions: listField(
    z.strictObject({
      label: labelField('Solution'),
      kind: labelField(
        'Kind',
        'Solutions of one kind are alike: their spread is taken together',
      ).optional(),
      readings: listField(
        z.strictObject({ order: order(), signal: signal() }),
        'readings',
        1,
        50,
      ).meta({ title: 'Readings' }),
    }),
    'solutions',
    1,
    100,
  )
    .refine(hasUniqueLabels, { error: 'solutions with different labels' })
    .meta({ title: 'Solutions' }),
  falseAlarmProbability: numberField('a probability', 0.0001, 0.5).meta({
    title: 'Probability of a false alarm and of a miss',
    description: 'For decision and detection limit; 0.05 unless agreed otherwise',
  }),
});

export type ContentsFromSignalsInput = z.infer<typeof contentsFromSignalsInput>;

const content = (title: string, description?: string) =>
  outputNumber(title, contentUnit, description);

export const contentsFromSignalsOutput = z.strictObject({
  line: z
    .strictObject({
      intercept: outputNumber('Intercept', signalUnit),
      interceptStandardUncertainty: outputNumber('Standard uncertainty', signalUnit),
      slope: outputNumber('Slope', sensitivityUnit),
      slopeStandardUncertainty: outputNumber('Standard uncertainty', sensitivityUnit),
      residualStandardDeviation: outputNumber(
        'Residual standard deviation',
        signalUnit,
        'Of a signal of weight 1; a ratio where the weighting is relative',
      ),
      degreesOfFreedom: outputNumber('Degrees of freedom'),
      correlation: z.number().nullable().meta({
        title: 'Correlation of signal and content',
        description: 'None without variation',
      }),
    })
    .meta({ title: 'Calibration line' }),
  points: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Standard' }),
        contentMilligramsPerKilogram: content('Content'),
        signal: outputNumber('Signal', signalUnit, 'A mean where the weighting is relative'),
        residual: outputNumber('Residual', signalUnit, 'Observed less fitted'),
      }),
    )
    .meta({ title: 'Points of the line' }),
  drift: z
    .array(
      z.strictObject({
        order: z.number().meta({ title: 'Place in the run' }),
        factor: outputNumber('Sensitivity over that of the calibration'),
      }),
    )
    .meta({ title: 'Drift' }),
  blankMilligramsPerKilogram: z.number().nullable().meta({
    title: 'Content of the reagent blanks',
    description: 'Not taken off',
    unit: contentUnit,
  }),
  limitBasis: z.enum(['blanks', 'line']).meta({ title: 'Limits from' }),
  solutions: z
    .array(
      z.strictObject({
        label: z.string().meta({ title: 'Solution' }),
        contentMilligramsPerKilogram: content('Content', 'May be below 0 by scatter'),
        standardUncertaintyMilligramsPerKilogram: content('Standard uncertainty'),
        decisionLimitMilligramsPerKilogram: content('Decision limit'),
        detectionLimitMilligramsPerKilogram: content('Detection limit'),
        driftFactor: outputNumber('Drift taken off'),
        insideStandards: z.boolean().meta({ title: 'Not above the standards' }),
      }),
    )
    .meta({ title: 'Contents' }),
  words: wordsField(),
});

export type ContentsFromSignalsOutput = z.infer<typeof contentsFromSignalsOutput>;
