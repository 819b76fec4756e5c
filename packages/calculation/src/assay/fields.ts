import { z } from 'zod';
import { elementSymbols } from './element-symbols.ts';

/** A number in a closed range; the refusal says the range in the unit of the field. */
export function numberField(what: string, least: number, most: number, unit = '') {
  const accepted = `${what} from ${least} to ${most}${unit === '' ? '' : ` ${unit}`}`;
  return z.number({ error: accepted }).min(least, { error: accepted }).max(most, {
    error: accepted,
  });
}

/** A whole number in a closed range. */
export function integerField(what: string, least: number, most: number) {
  const accepted = `${what}, a whole number from ${least} to ${most}`;
  return z.int({ error: accepted }).min(least, { error: accepted }).max(most, { error: accepted });
}

/** A name of 1 to 100 characters. */
export function labelField(title: string, description?: string) {
  const error = 'a text of 1 to 100 characters';
  return z
    .string({ error })
    .min(1, { error })
    .max(100, { error })
    .meta({ title, ...(description === undefined ? {} : { description }) });
}

/** Chemical symbol of an element. */
export function elementField(title = 'Element') {
  const error = 'the symbol of a chemical element, such as Ag or Cu';
  return z
    .string({ error })
    .refine((value) => elementSymbols.has(value), { error })
    .meta({ title, description: 'Chemical symbol' });
}

/** A list with least and greatest length. */
export function listField<Item extends z.ZodType>(
  item: Item,
  what: string,
  least: number,
  most: number,
) {
  const error = `a list of ${least} to ${most} ${what}`;
  return z.array(item, { error }).min(least, { error }).max(most, { error });
}

/** Whether the labels of a list are all different. */
export const hasUniqueLabels = (items: readonly { readonly label: string }[]): boolean =>
  new Set(items.map((item) => item.label)).size === items.length;

/** A number of the output with its title, and unit and description where they help. */
export function outputNumber(title: string, unit?: string, description?: string) {
  return z.number().meta({
    title,
    ...(unit === undefined ? {} : { unit }),
    ...(description === undefined ? {} : { description }),
  });
}

/** Degree of confidence of an interval, two-sided. */
export const confidenceField = () =>
  numberField('a level of confidence', 50, 99.99, '%').meta({
    title: 'Level of confidence',
    description: 'Two-sided; 95 unless agreed otherwise',
    unit: '%',
  });

/** The result in plain sentences. */
export const wordsField = () => z.string().meta({ title: 'In words' });

/** Fineness under each policy on contents below their limit, in the output. */
export const byPolicyOutput = z
  .strictObject({
    zero: outputNumber('Below limit as zero', '‰'),
    half: outputNumber('Below limit as half the limit', '‰'),
    limit: outputNumber('Below limit at the limit', '‰'),
  })
  .meta({ title: 'Fineness under each policy' });
