import { z } from 'zod';
import {
  byPolicyOutput,
  elementField,
  integerField,
  labelField,
  listField,
  numberField,
  outputNumber,
  wordsField,
} from './fields.ts';
import { detectionLimitPolicies } from './fineness-by-difference-schema.ts';

const signal = (title: string) =>
  numberField('a signal', -1e12, 1e12).meta({ title, unit: 'counts' });
const minutes = () => numberField('a time', 0, 100_000, 'min').meta({ title: 'Time', unit: 'min' });
const internalStandard = () =>
  numberField('a signal', 1e-9, 1e12).optional().meta({
    title: 'Signal of the internal standard',
    description: 'In every reading of an element, or in none',
    unit: 'counts',
  });
const perLitre = 'mg/L';

const element = z.strictObject({
  element: elementField(),
  line: labelField('Line', 'Wavelength or mass that was read'),
  blankSignals: listField(signal('Signal'), 'blank signals', 2, 100).meta({
    title: 'Signals of blanks',
    description:
      'Reagents without the metal, over the run; ratios where there is an internal standard',
    unit: 'counts',
  }),
  checks: listField(
    z.strictObject({
      minutes: minutes(),
      contentMilligramsPerLitre: numberField('a content', 1e-9, 1e6, perLitre).meta({
        title: 'Content of the check standard',
        unit: perLitre,
      }),
      signal: signal('Signal'),
      internalStandardSignal: internalStandard(),
    }),
    'check standards',
    2,
    100,
  ).meta({ title: 'Check standards', description: 'Before and after the sample, to bracket it' }),
  reading: z
    .strictObject({
      minutes: minutes(),
      signal: signal('Signal'),
      internalStandardSignal: internalStandard(),
      integrations: integerField('a number of integrations', 1, 100).meta({
        title: 'Integrations averaged',
      }),
    })
    .meta({ title: 'Reading of the sample' }),
  relativeRepeatabilityPercent: numberField('a relative standard deviation', 0, 100, '%').meta({
    title: 'Relative repeatability of one integration',
    description: 'Well above the blank; the blank adds its own spread',
    unit: '%',
  }),
  standardRelativeUncertaintyPercent: numberField('a relative uncertainty', 0, 100, '%').meta({
    title: 'Relative standard uncertainty of the check standards',
    unit: '%',
  }),
  interferences: listField(
    z.strictObject({
      element: elementField('Interfering element'),
      contentMilligramsPerLitre: numberField('a content', 0, 1e6, perLitre).meta({
        title: 'Its content in the sample solution',
        unit: perLitre,
      }),
      apparentPerContent: numberField('a ratio', -1, 1).meta({
        title: 'Apparent content per content',
        description:
          'What this line shows of the element sought for each unit of the interfering one',
      }),
    }),
    'interferences',
    0,
    20,
  ).meta({ title: 'Interferences known for the line', description: 'Flagged, never taken off' }),
});

export const spectrometricDifferenceInput = z
  .strictObject({
    metal: z.enum(['gold', 'silver'], { error: 'gold or silver' }).meta({ title: 'Base metal' }),
    sampleMassGrams: numberField('a mass', 0.001, 1000, 'g').meta({ title: 'Sample', unit: 'g' }),
    sampleMassStandardUncertaintyGrams: numberField('a standard uncertainty', 0, 10, 'g').meta({
      title: 'Standard uncertainty of the sample mass',
      unit: 'g',
    }),
    solutionMillilitres: numberField('a volume', 0.1, 100_000, 'mL').meta({
      title: 'Volume of the sample solution',
      unit: 'mL',
    }),
    solutionRelativeUncertaintyPercent: numberField('a relative uncertainty', 0, 100, '%').meta({
      title: 'Relative standard uncertainty of volume and dilution',
      unit: '%',
    }),
    dilutionFactor: numberField('a factor', 1, 1_000_000).meta({
      title: 'Dilution factor',
      description: '1 where the sample solution itself was read',
    }),
    elements: listField(element, 'elements', 1, 100).meta({ title: 'Elements sought' }),
    falseAlarmProbability: numberField('a probability', 0.0001, 0.5).meta({
      title: 'Probability of a false alarm and of a miss',
      description: 'For decision and detection limit; 0.05 unless agreed otherwise',
    }),
    interferenceFlagShare: numberField('a share', 0, 10).meta({
      title: 'Share of the detection limit from which an interference is flagged',
      description: '0.5 is common practice',
    }),
    policy: z
      .enum(detectionLimitPolicies, { error: `one of ${detectionLimitPolicies.join(', ')}` })
      .meta({
        title: 'Detection-limit policy',
        description: 'What a content below its detection limit counts as',
      }),
  })
  .superRefine((input, context) => {
    const seen = new Set<string>();
    for (const [index, one] of input.elements.entries()) {
      const path = ['elements', index, 'element'];
      if (seen.has(one.element)) {
        context.addIssue({ code: 'custom', path, message: 'each element once, by its best line' });
      }
      seen.add(one.element);
    }
  });

export type SpectrometricDifferenceInput = z.infer<typeof spectrometricDifferenceInput>;

const perKilogram = (title: string, description?: string) =>
  outputNumber(title, 'mg/kg', description);
const perMille = (title: string, description?: string) => outputNumber(title, '‰', description);

export const spectrometricDifferenceOutput = z.strictObject({
  elements: z
    .array(
      z.strictObject({
        element: z.string().meta({ title: 'Element' }),
        line: z.string().meta({ title: 'Line' }),
        contentMilligramsPerKilogram: perKilogram('Content found', 'May be below 0 by scatter'),
        standardUncertaintyMilligramsPerKilogram: perKilogram('Standard uncertainty'),
        decisionLimitMilligramsPerKilogram: perKilogram('Decision limit'),
        detectionLimitMilligramsPerKilogram: perKilogram('Detection limit'),
        state: z.enum(['found', 'present, below detection limit', 'not found']).meta({
          title: 'State',
        }),
        driftPercent: outputNumber('Drift of the sensitivity over its bracket', '%'),
        interferenceMilligramsPerKilogram: perKilogram('Sum of apparent contents', 'Not taken off'),
        flags: z.array(z.string().meta({ title: 'Flag' })).meta({ title: 'Flags' }),
      }),
    )
    .meta({ title: 'Elements' }),
  byPolicy: byPolicyOutput,
  finenessPerMille: perMille('Fineness', 'Under the chosen policy'),
  ownStandardUncertaintyPerMille: perMille('Own part', 'Independent from element to element'),
  sharedStandardUncertaintyPerMille: perMille(
    'Shared part',
    'Sample mass, volume and dilution, one error for all elements',
  ),
  standardUncertaintyPerMille: perMille('Standard uncertainty'),
  scope: z.enum(['inside', 'outside']).meta({
    title: 'Scope of the method',
    description: 'Inside from 999 ‰',
  }),
  words: wordsField(),
});

export type SpectrometricDifferenceOutput = z.infer<typeof spectrometricDifferenceOutput>;
