import { z } from 'zod';

/** The units in which instruments send readings here. */
export const readingUnits = ['kg', 'g', 'mg', 'mm', 'µm', 'HV'] as const;

const decimal = /^[+-]?\d+(\.\d+)?$/;

const receivedForm = 'the SHA-256 of a received line, for a reading that nobody typed';

const readingFields = z.strictObject(
  {
    text: z
      .string()
      .regex(decimal, 'a decimal number with a point, such as 622.3')
      .max(24, 'at most 24 characters')
      .meta({ title: 'Reading', description: 'The digits exactly as the instrument sent them.' }),
    unit: z.enum(readingUnits, `one of ${readingUnits.join(', ')}`),
    /** True when a person typed it instead of the instrument sending it. */
    typed: z.boolean(),
    /** Which line of an instrument the server received it in; older and typed readings have none. */
    received: z
      .string(receivedForm)
      .regex(/^[0-9a-f]{64}$/, receivedForm)
      .exactOptional(),
  },
  {
    error: ({ code }) =>
      code === 'invalid_type' ? 'a reading: its digits and its unit' : undefined,
  },
);

/** Schema of a reading: the text as it was sent, its unit, and where it came from. */
export const readingSchema = readingFields.refine(
  (reading) => !(reading.typed && reading.received !== undefined),
  { error: receivedForm, path: ['received'] },
);

/** What an instrument showed, kept as it was sent. */
export type Reading = Readonly<z.infer<typeof readingSchema>>;

const microgramsExponent: Readonly<Record<string, number>> = { kg: 9, g: 6, mg: 3 };

/** A reading whose digits are a mass that can be held exactly. */
const exactMass = readingSchema
  .refine((reading) => reading.unit in microgramsExponent, {
    error: 'a mass in kg, g or mg',
    path: ['unit'],
  })
  .refine((reading) => isWholeMicrograms(reading), {
    error: 'a mass in whole micrograms, below 9 000 t',
    path: ['text'],
  });

/** A schema for readings of mass: above zero, in kg, g or mg, exact in whole micrograms. */
export const massReadingSchema = exactMass.refine((reading) => Number(reading.text) > 0, {
  error: 'a mass above 0',
  path: ['text'],
});

/** The same for what may be empty: a place where nothing lies weighs nothing. */
export const massFromZeroReadingSchema = exactMass.refine((reading) => Number(reading.text) >= 0, {
  error: 'a mass of 0 or more; a balance that shows less is set to zero first',
  path: ['text'],
});

/** A schema for readings of length: above zero, in mm or µm. */
export const lengthReadingSchema = readingSchema
  .refine((reading) => reading.unit === 'mm' || reading.unit === 'µm', {
    error: 'a length in mm or µm',
    path: ['unit'],
  })
  .refine((reading) => Number(reading.text) > 0, { error: 'a length above 0', path: ['text'] });

function isWholeMicrograms(reading: Reading): boolean {
  const exponent = microgramsExponent[reading.unit];
  if (exponent === undefined || !decimal.test(reading.text)) return false;
  const [, fraction = ''] = reading.text.split('.');
  if (fraction.replace(/0+$/, '').length > exponent) return false;
  return Number.isSafeInteger(Number(wholeDigits(reading.text, exponent)));
}

/** The digits of a decimal number, moved so far to the left of the point, as a whole number. */
function wholeDigits(text: string, exponent: number): bigint {
  const [whole = '0', fraction = ''] = text.split('.');
  return BigInt(`${whole}${fraction.replace(/0+$/, '').padEnd(exponent, '0')}`);
}

/** The mass of a reading in whole micrograms: exact, from its digits. */
export function readingMicrograms(reading: Reading): number {
  const exponent = microgramsExponent[reading.unit];
  if (exponent === undefined || !isWholeMicrograms(reading)) {
    throw new RangeError(`${reading.text} ${reading.unit} is not a mass in whole micrograms`);
  }
  return Number(wholeDigits(reading.text, exponent));
}

/** The mass of a reading in grams, as a double, for calculations. */
export function readingGrams(reading: Reading): number {
  return readingMicrograms(reading) / 1e6;
}

/** The mass of a reading in milligrams, as a double, for calculations. */
export function readingMilligrams(reading: Reading): number {
  return readingMicrograms(reading) / 1e3;
}

/** The length of a reading in millimetres, as a double. */
export function readingMillimetres(reading: Reading): number {
  if (reading.unit !== 'mm' && reading.unit !== 'µm') {
    throw new RangeError(`${reading.text} ${reading.unit} is not a length`);
  }
  // The exponent moves the point in the text, so that the nearest double is found in one step.
  return Number(reading.unit === 'mm' ? reading.text : `${reading.text}e-3`);
}
