import { type Calculation, catalogue, topics } from '@cupel/calculation';
import { z } from 'zod';

interface Schema {
  readonly type?: string | readonly string[];
  readonly title?: string;
  readonly description?: string;
  readonly unit?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly exclusiveMaximum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
}

/** The greatest safe integer stands in a schema where nothing else bounds a whole number. */
const isBound = (value: number | undefined): value is number =>
  value !== undefined && Math.abs(value) < Number.MAX_SAFE_INTEGER;

function bounds(schema: Schema): string {
  const parts = [
    isBound(schema.minimum) ? `≥ ${schema.minimum}` : '',
    isBound(schema.exclusiveMinimum) ? `> ${schema.exclusiveMinimum}` : '',
    isBound(schema.maximum) ? `≤ ${schema.maximum}` : '',
    isBound(schema.exclusiveMaximum) ? `< ${schema.exclusiveMaximum}` : '',
  ].filter(Boolean);
  return parts.length > 0 ? ` ${parts.join(', ')}` : '';
}

function kindOf(schema: Schema): string {
  if (schema.enum) return `one of ${schema.enum.join(', ')}`;
  if (schema.const !== undefined) return `“${schema.const}”`;
  const branches = schema.anyOf ?? schema.oneOf;
  if (branches) return [...new Set(branches.map(kindOf))].join(' or ');
  if (schema.type === 'array') return `list of ${kindOf(schema.items ?? {})}`;
  if (schema.type === 'object') return 'group of fields';
  if (schema.type === 'null') return 'nothing';
  if (schema.type === 'string') return 'text';
  if (schema.type === 'boolean') return 'yes or no';
  return `${schema.type === 'integer' ? 'whole number' : 'number'}${bounds(schema)}`;
}

/** A cell of a table in Markdown. */
const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

function rowsOf(schema: Schema, path: string): readonly string[] {
  const own = Object.entries(schema.properties ?? {}).flatMap(([name, field]) => {
    const place = path === '' ? name : `${path}.${name}`;
    const may = schema.required?.includes(name) === false ? ' (may be left out)' : '';
    const title = [field.title, field.description].filter(Boolean).join('. ');
    const unit = field.unit ?? '';
    const row = `| \`${place}\` | ${cell(title)} | ${cell(unit)} | ${cell(kindOf(field))}${may} |`;
    return [row, ...rowsOf(field, place)];
  });
  const listed = schema.items ? rowsOf(schema.items, `${path}[]`) : [];
  const branches = [...(schema.anyOf ?? []), ...(schema.oneOf ?? [])];
  return [...new Set([...own, ...listed, ...branches.flatMap((one) => rowsOf(one, path))])];
}

function fields(schema: z.ZodType, io: 'input' | 'output'): string {
  const json = z.toJSONSchema(schema, { io, unrepresentable: 'any' }) as Schema;
  const rows = rowsOf(json, '');
  return ['| field | meaning | unit | accepted |', '|---|---|---|---|', ...rows].join('\n');
}

/** Lists in the example are cut here: what follows is of the same kind. */
const longestShownList = 12;

function shortened(value: unknown): unknown {
  if (Array.isArray(value)) {
    const shown = value.slice(0, longestShownList).map(shortened);
    const left = value.length - longestShownList;
    return left > 0 ? [...shown, `… and ${left} more`] : shown;
  }
  if (typeof value !== 'object' || value === null) return figure(value);
  return Object.fromEntries(Object.entries(value).map(([name, part]) => [name, shortened(part)]));
}

/** Twelve digits: what a machine of another make gives beyond them may differ. */
function figure(value: unknown): unknown {
  return typeof value === 'number' && !Number.isInteger(value)
    ? Number(value.toPrecision(12))
    : value;
}

const block = (value: unknown): string =>
  `\`\`\`json\n${JSON.stringify(shortened(value), null, 2)}\n\`\`\``;

/** The page of one calculation, made from what the catalogue says of it. */
function calculationDocument(calculation: Calculation): string {
  const { id, version, topic, title, purpose, source, cautions = [], example } = calculation;
  return [
    `# ${title}`,
    `\`${id}\`, version ${version}, topic ${topic}. This page is generated from the catalogue by \`npm run calculations\`; a test compares it.`,
    purpose,
    ...(cautions.length > 0
      ? ['## Cautions', cautions.map((caution) => `- ${caution}`).join('\n')]
      : []),
    '## Source',
    source
      .split('; ')
      .map((part) => `- ${part}`)
      .join('\n'),
    '## Input',
    fields(calculation.input, 'input'),
    '## Result',
    fields(calculation.output, 'output'),
    '## Worked example',
    block(example),
    'gives',
    block(calculation.compute(example)),
    '',
  ].join('\n\n');
}

/** The list of every calculation by topic. */
function calculationsList(): string {
  const parts = topics.map((topic) => {
    const of = catalogue.filter((calculation) => calculation.topic === topic);
    const rows = of.map(({ id, title, purpose }) => `- [${title}](${id}.md): ${purpose}`);
    return `## ${topic}\n\n${rows.join('\n')}\n`;
  });
  return [
    '# Calculations',
    '',
    'Every calculation of the catalogue, with its fields, source and worked example. The same ones run in the workbench, over HTTP and as `npx cupel calculate`. These pages are generated by `npm run calculations`; a test compares them with the catalogue.',
    '',
    parts.join('\n'),
  ].join('\n');
}

/** Every page of the folder `docs/calculations` by its name. */
export function calculationPages(): ReadonlyMap<string, string> {
  return new Map([
    ['README.md', calculationsList()],
    ...catalogue.map(
      (calculation) => [`${calculation.id}.md`, calculationDocument(calculation)] as const,
    ),
  ]);
}
