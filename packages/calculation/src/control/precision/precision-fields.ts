import { z } from 'zod';

const nameWords = 'a name of 1 to 80 characters';
const unitWords = 'a unit of 1 to 20 characters, such as mm or mg/kg; 1 where there is none';
const readingWords = 'a finite number in the stated unit';
const confidenceWords = 'a confidence of 50 to 99.99 %';
const significanceWords = 'a significance of 0.01 to 50 %';

/** A name of a part, a laboratory, an inspector. */
export const nameField = (title: string) =>
  z.string(nameWords).min(1, nameWords).max(80, nameWords).meta({ title });

/** The unit that readings and results share. */
export const unitField = z
  .string(unitWords)
  .min(1, unitWords)
  .max(20, unitWords)
  .meta({ title: 'Unit', description: 'Of the readings; results are in the same unit' });

/** A reading in the stated unit. */
export const readingField = (title: string) =>
  z.number({ error: readingWords }).meta({ title, description: 'In the stated unit' });

/** A figure above 0 in the stated unit. */
export const positiveField = (title: string, description = 'In the stated unit') => {
  const words = 'a number above 0 in the stated unit';
  return z.number({ error: words }).gt(0, words).meta({ title, description });
};

/** Two-sided confidence of intervals. */
export const confidenceField = z
  .number({ error: confidenceWords })
  .min(50, confidenceWords)
  .max(99.99, confidenceWords)
  .meta({ title: 'Confidence of the intervals', unit: '%' });

/** Significance of a test. */
export const significanceField = (title: string, description: string) =>
  z
    .number({ error: significanceWords })
    .min(0.01, significanceWords)
    .max(50, significanceWords)
    .meta({ title, description, unit: '%' });

/** A result in the stated unit. */
export const resultField = (title: string, description = 'In the stated unit') =>
  z.number().meta({ title, description });

/** A result that may not exist. */
export const nullableField = (title: string, description: string) =>
  z.number().nullable().meta({ title, description });

/** A result without a unit. */
export const ratioField = (title: string, description?: string) =>
  z.number().meta(description === undefined ? { title } : { title, description });

export const wordsField = z.string().meta({ title: 'In words' });

/** A figure for a sentence: four significant digits, written plainly where that is short. */
export function inWords(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** A figure with its unit for a sentence; the unit 1 is not written. */
export function measured(value: number, unit: string): string {
  return unit === '1' ? inWords(value) : `${inWords(value)} ${unit}`;
}

/** Names for a sentence: A, B and C. */
export function listInWords(names: readonly string[]): string {
  return names.length < 2
    ? (names[0] ?? '')
    : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}
