import { places, placeTitle } from '../../journal/place.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { filledRows } from '../filled-rows.ts';
import { decimalOf, localDecimalSign, typedDecimal } from '../number-text.ts';

/** The part of JSON Schema that the inputs of calculations use. */
export interface Schema {
  readonly type?: string | readonly string[];
  readonly title?: string;
  readonly description?: string;
  readonly unit?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly minItems?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly pattern?: string;
  readonly format?: string;
  readonly enum?: readonly (string | number)[];
  readonly const?: string | number | boolean;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
}

/** What stands in a form while it is filled: text for every single value. */
export type Draft = string | readonly Draft[] | { readonly [field: string]: Draft };

/** How a part of the input is asked for. */
export type SchemaShape =
  | 'text'
  | 'document'
  | 'number'
  | 'yes or no'
  | 'choice'
  | 'list of numbers'
  | 'list'
  | 'object'
  | 'reading'
  | 'alternatives';

const isNumber = (schema: Schema | undefined): boolean =>
  [schema?.type].flat().some((type) => type === 'number' || type === 'integer');

/** A schema without the alternative "nothing", which an empty field stands for. */
export function plainSchema(schema: Schema): Schema {
  const alternatives = schema.anyOf ?? schema.oneOf;
  const real = alternatives?.filter((one) => one.type !== 'null');
  const constants = real?.flatMap((one) => (one.const === undefined ? [] : [one.const]));
  if (real && constants?.length === real.length) {
    const { anyOf: _any, oneOf: _one, ...names } = schema;
    return { type: typeof constants[0], ...names, enum: constants as (string | number)[] };
  }
  const [only] = real ?? [];
  if (real?.length !== 1 || !only) return schema;
  const { anyOf: _any, oneOf: _one, ...names } = schema;
  return { ...only, ...names };
}

/** Whether the part is a reading of an instrument: its text, its unit, and whether it was typed. */
function isReading({ properties }: Schema): boolean {
  return (
    properties !== undefined &&
    'text' in properties &&
    'unit' in properties &&
    'typed' in properties
  );
}

/** Whether the part is the SHA-256 of a document that is kept beside the journal. */
const isDocument = ({ pattern }: Schema): boolean => pattern === '^[0-9a-f]{64}$';

/** How a part of the input is asked for. */
export function shapeOf(schema: Schema): SchemaShape {
  if (schema.anyOf ?? schema.oneOf) return 'alternatives';
  if (schema.enum) return 'choice';
  if (isReading(schema)) return 'reading';
  if (schema.type === 'object') return 'object';
  if (schema.type === 'array') return isNumber(schema.items) ? 'list of numbers' : 'list';
  if (schema.type === 'boolean') return 'yes or no';
  if (isDocument(schema)) return 'document';
  return isNumber(schema) ? 'number' : 'text';
}

/** The alternatives of a schema. */
export function alternativesOf(schema: Schema): readonly Schema[] {
  return schema.anyOf ?? schema.oneOf ?? [];
}

/** The choices of a schema as people read them: places by their signs, everything else as it stands. */
export function choicesOf({ enum: values = [] }: Schema): readonly {
  readonly value: string;
  readonly label: string;
}[] {
  const isPlaces = values.every((one) => (places as readonly unknown[]).includes(one));
  return values.map((one) => ({
    value: String(one),
    label: isPlaces ? placeTitle(String(one)) : String(one),
  }));
}

/** What an alternative is called: its title, or the constant that tells it from the others. */
export function alternativeName(schema: Schema, index: number): string {
  const constant = Object.values(schema.properties ?? {}).find((part) => part.const !== undefined);
  return (
    schema.title ??
    (constant ? String(constant.const) : (schema.type?.toString() ?? `form ${index + 1}`))
  );
}

/** Whether a value could be one of that alternative. */
function fits(schema: Schema, value: Json): boolean {
  if (value === null) return schema.type === 'null';
  if (schema.const !== undefined) return schema.const === value;
  if (schema.enum) return schema.enum.includes(value as string);
  if (Array.isArray(value)) return schema.type === 'array';
  if (typeof value === 'object' && value !== null) {
    const properties = schema.properties ?? {};
    return (
      schema.type === 'object' &&
      Object.entries(properties).every(
        ([name, part]) =>
          part.const === undefined || fits(part, (value as JsonObject)[name] ?? null),
      ) &&
      Object.keys(value).every((name) => name in properties)
    );
  }
  return typeof value === 'number' ? isNumber(schema) : schema.type === typeof value;
}

/** A number as a hand would type it. */
const typedNumber = (value: number) => String(value).replace('.', localDecimalSign());

/** The draft that stands for a value; an empty one for none. */
export function draftOf(whole: Schema, value: Json | undefined): Draft {
  const schema = plainSchema(whole);
  switch (shapeOf(schema)) {
    case 'alternatives': {
      const found = alternativesOf(schema).findIndex(
        (one) => value !== undefined && fits(one, value),
      );
      const index = Math.max(0, found);
      return {
        choice: String(index),
        value: draftOf(alternativesOf(schema)[index] ?? {}, found < 0 ? undefined : value),
      };
    }
    case 'reading': {
      const given = (value ?? {}) as JsonObject;
      const unit = given['unit'] ?? schema.properties?.['unit']?.enum?.[1] ?? 'g';
      const typed = given['typed'] ?? true;
      return { text: String(given['text'] ?? ''), unit: String(unit), typed: String(typed) };
    }
    case 'object': {
      const given = (value ?? {}) as JsonObject;
      const parts = Object.entries(schema.properties ?? {});
      return Object.fromEntries(parts.map(([name, part]) => [name, draftOf(part, given[name])]));
    }
    case 'list': {
      const given = Array.isArray(value) ? (value as Json[]) : [];
      const least = value === undefined ? (schema.minItems ?? 0) : 0;
      const blank = Array.from({ length: least }, () => draftOf(schema.items ?? {}, undefined));
      return [...given.map((item) => draftOf(schema.items ?? {}, item)), ...blank];
    }
    case 'yes or no':
      // What is not ticked is no.
      return String(value ?? false);
    case 'list of numbers':
      return Array.isArray(value) ? (value as number[]).map(typedNumber).join('\n') : '';
    default: {
      if (schema.const !== undefined) return String(schema.const);
      if (value === undefined || value === null) return '';
      return typeof value === 'number' ? typedNumber(value) : String(value);
    }
  }
}

/** Whether nothing has been filled in. */
function isBlank(draft: Draft): boolean {
  if (typeof draft === 'string') return draft.trim() === '';
  if ('text' in draft && 'unit' in draft && 'typed' in draft) return isBlank(draft['text'] ?? '');
  return Object.values(draft).every((part) => isBlank(part as Draft));
}

/** Whether a part stands as the empty form offers it: what is fixed by the schema is no answer. */
function isUntouched(schema: Schema, draft: Draft): boolean {
  return (
    isBlank(draft) ||
    (typeof draft !== 'string' &&
      JSON.stringify(draft) === JSON.stringify(draftOf(schema, undefined)))
  );
}

/**
 * The input that a draft stands for; undefined for what was left empty. Text that is no number goes
 * as it stands, so that the calculation refuses it by name.
 */
export function inputOf(whole: Schema, draft: Draft): Json | undefined {
  const schema = plainSchema(whole);
  switch (shapeOf(schema)) {
    case 'alternatives': {
      const { choice, value } = draft as { choice: string; value: Draft };
      return inputOf(alternativesOf(schema)[Number(choice)] ?? {}, value);
    }
    case 'reading':
      return readingIn(draft as Readonly<Record<string, string>>);
    case 'object':
      return objectOf(schema, draft as Record<string, Draft>);
    case 'list':
      return filledRows(draft as readonly Draft[], (item) =>
        isUntouched(schema.items ?? {}, item),
      ).map((item) => inputOf(schema.items ?? {}, item) ?? null);
    case 'list of numbers':
      return numbersOf(draft as string);
    default:
      return scalarOf(schema, draft as string);
  }
}

/** A reading as commands take it; nothing where none was made. */
function readingIn(draft: Readonly<Record<string, string>>): Json | undefined {
  const { text = '', unit = 'g', typed, received } = draft;
  if (text.trim() === '') return undefined;
  if (typed !== 'false') return { text: typedDecimal(text) ?? text, unit, typed: true };
  return { text, unit, typed: false, ...(received === undefined ? {} : { received }) };
}

function objectOf(schema: Schema, draft: Readonly<Record<string, Draft>>): JsonObject {
  const parts = Object.entries(schema.properties ?? {}).flatMap(([name, part]) => {
    const isRequired = schema.required?.includes(name) ?? false;
    const own = draft[name] ?? '';
    if (!isRequired && isUntouched(part, own) && part.const === undefined) return [];
    if (isNullable(part) && isUntouched(part, own)) return [[name, null] as const];
    const value = inputOf(part, own);
    if (value !== undefined) return [[name, value] as const];
    return isRequired && isNullable(part) ? [[name, null] as const] : [];
  });
  return Object.fromEntries(parts);
}

function isNullable(schema: Schema): boolean {
  return (
    [schema.type].flat().includes('null') ||
    alternativesOf(schema).some((one) => one.type === 'null')
  );
}

/** Numbers as pasted: one a line, or parted by spaces, tabs or semicolons. */
function numbersOf(text: string): Json | undefined {
  const parts = text.split(/[\s;]+/).filter(Boolean);
  return parts.length === 0 ? undefined : parts.map((part) => decimalOf(part));
}

function scalarOf(schema: Schema, text: string): Json | undefined {
  if (schema.const !== undefined) return schema.const;
  if (text.trim() === '') return undefined;
  if (schema.enum) return schema.enum.find((one) => String(one) === text) ?? text;
  if (schema.type === 'boolean') return text === 'true';
  const types = [schema.type].flat();
  if (!isNumber(schema)) return text;
  const number = decimalOf(text);
  return typeof number === 'string' && types.includes('string') ? text : number;
}

/** A copy of the draft with the part at a path replaced. */
export function withPart(draft: Draft, path: readonly (string | number)[], part: Draft): Draft {
  const [first, ...rest] = path;
  if (first === undefined) return part;
  if (Array.isArray(draft)) {
    return draft.map((item, index) => (index === first ? withPart(item, rest, part) : item));
  }
  const fields = draft as Readonly<Record<string, Draft>>;
  return { ...fields, [first]: withPart(fields[String(first)] ?? '', rest, part) };
}
