import type { Refusal } from '../../journal/refusal.ts';
import { inWords } from '../number-text.ts';
import { alternativesOf, plainSchema, type Schema } from './schema-draft.ts';

/** The part of a schema under a name, also where it stands in one of several alternatives. */
function partOf(schema: Schema, name: string): Schema | undefined {
  const places = [schema, ...alternativesOf(schema)];
  return places.map((place) => place.properties?.[name]).find((part) => part !== undefined);
}

/** What a field is called on the form: `Certified values, row 4, Unit` for `certified.3.unit`. */
export function fieldName(whole: Schema, path: string): string {
  const names: string[] = [];
  let schema: Schema | undefined = plainSchema(whole);
  for (const step of path.split('.')) {
    if (/^\d+$/.test(step)) {
      names.push(`row ${Number(step) + 1}`);
      schema = schema?.items && plainSchema(schema.items);
      continue;
    }
    const part: Schema | undefined = schema && partOf(schema, step);
    schema = part && plainSchema(part);
    names.push(schema?.title ?? inWords(step));
  }
  return names.join(', ');
}

/** What is not accepted in a field, told with the name that the form gives it. */
export function inWordsOfForm(schema: Schema, refusals: readonly Refusal[]): readonly Refusal[] {
  return refusals.map((refusal) => {
    const { field, message, figures } = refusal;
    const begins = `${field} is `;
    if (field === undefined || !('accepted' in figures) || !message.startsWith(begins)) {
      return refusal;
    }
    return {
      ...refusal,
      message: `${fieldName(schema, field)} is ${message.slice(begins.length)}`,
    };
  });
}
