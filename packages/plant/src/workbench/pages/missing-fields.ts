import type { Json, JsonObject } from '../../ports/json.ts';
import { alternativesOf, plainSchema, type Schema } from './schema-draft.ts';
import { fieldName } from './schema-names.ts';

const acceptsNothing = (schema: Schema): boolean =>
  [schema.type].flat().includes('null') ||
  alternativesOf(schema).some((one) => one.type === 'null');

function acceptsEmptyText({ minLength = 0, pattern, format, enum: choices }: Schema): boolean {
  if (choices || format || minLength > 0) return false;
  return pattern === undefined || new RegExp(pattern).test('');
}

/** Whether a field that is asked for stands empty; what is wrong in it otherwise the plant says. */
function isMissing(schema: Schema, value: Json | undefined): boolean {
  if (value === undefined) return true;
  if (value === null) return !acceptsNothing(schema);
  const plain = plainSchema(schema);
  if (typeof value === 'string') return value.trim() === '' && !acceptsEmptyText(plain);
  return Array.isArray(value) && value.length === 0 && (plain.minItems ?? 0) > 0;
}

/** What has to be filled in before anybody is asked to sign, in a sentence; nothing when all is. */
export function missingWords(schema: Schema, input: JsonObject): string | undefined {
  const missing = (schema.required ?? []).filter((name) => {
    const part = schema.properties?.[name];
    return part !== undefined && isMissing(part, input[name]);
  });
  if (missing.length === 0) return undefined;
  return `To be filled in first: ${missing.map((name) => fieldName(schema, name)).join(', ')}.`;
}
