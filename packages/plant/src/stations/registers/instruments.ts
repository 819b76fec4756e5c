import { z } from 'zod';
import { insidePlaces } from '../../journal/place.ts';
import { daySchema, idSchema, titleSchema } from './identity.ts';

const instrumentKinds = [
  'balance',
  'micrometer',
  'gauge',
  'spectrometer',
  'burette',
  'hardness tester',
  'microscope',
  'furnace',
  'press',
] as const;

export type InstrumentKind = (typeof instrumentKinds)[number];

export const instrumentId = idSchema.meta({
  title: 'Instrument',
  description: 'The id on the label of the instrument.',
});

export const calibrationDue = daySchema.meta({
  title: 'Calibration due',
  description: 'The last day on which its readings count.',
});

const gain = 'a relative value from 0 to 0.1, or nothing';

/** What a balance adds to the uncertainty of a mass; nothing for other instruments. */
export const weighingFields = {
  divisionGrams: z
    .number('grams above 0, or nothing')
    .positive('grams above 0, or nothing')
    .nullable()
    .meta({ title: 'Division', description: 'Smallest step that the balance shows.', unit: 'g' }),
  repeatabilityGrams: z
    .number('grams from 0, or nothing')
    .min(0, 'grams from 0, or nothing')
    .nullable()
    .meta({
      title: 'Repeatability',
      description: 'Standard deviation of repeated weighings.',
      unit: 'g',
    }),
  gainRelative: z.number(gain).min(0, gain).max(0.1, gain).nullable().meta({
    title: 'Relative gain uncertainty',
    description: 'Standard uncertainty of its span, relative, such as 0.0001.',
  }),
};

/** An instrument as the register keeps one. */
export const instrumentSchema = z
  .strictObject({
    instrument: instrumentId,
    title: titleSchema,
    kind: z
      .enum(instrumentKinds, `one of ${instrumentKinds.join(', ')}`)
      .meta({ title: 'Kind', description: 'What it measures or does.' }),
    place: z
      .enum(insidePlaces, `one of ${insidePlaces.join(', ')}`)
      .meta({ title: 'Place', description: 'Where it stands.' }),
    ...weighingFields,
    calibrationDue,
  })
  .superRefine((instrument, context) => {
    const isBalance = instrument.kind === 'balance';
    for (const field of ['divisionGrams', 'repeatabilityGrams', 'gainRelative'] as const) {
      if ((instrument[field] !== null) === isBalance) continue;
      const message = isBalance
        ? 'a number, since every balance states it'
        : `nothing, since a ${instrument.kind} does not weigh`;
      context.addIssue({ code: 'custom', path: [field], message });
    }
  });

/** Why an instrument may not be used: the check that it failed, or its wrong calibration. */
type InstrumentStop = {
  readonly cause: 'check' | 'calibration';
  readonly entry: number;
  readonly instant: string;
  readonly words: string;
};

export type Instrument = Readonly<z.infer<typeof instrumentSchema>> & {
  /** Present while its last check is a failed one, or its calibration is found wrong. */
  readonly stopped?: InstrumentStop;
};

/** An instrument as its registration states it. */
export type RegisteredInstrument = Readonly<z.infer<typeof instrumentSchema>>;

/** Whether the readings of the instrument no longer count on that day. */
export function isCalibrationOverdue(instrument: Instrument, day: string): boolean {
  return instrument.calibrationDue < day;
}

/** Why no reading of the instrument counts on that day, in a sentence; nothing where it may be used. */
export function outOfUse(instrument: Instrument, day: string): string | null {
  const { title, stopped, calibrationDue } = instrument;
  if (stopped) return `${title} is stopped. ${stopped.words}`;
  if (!isCalibrationOverdue(instrument, day)) return null;
  return `${title} is not in use: its calibration was due on ${calibrationDue}.`;
}
