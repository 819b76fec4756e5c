import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Chart, LimitRule } from './calculation.ts';
import { topics } from './calculation.ts';
import { calculationById, catalogue } from './catalogue.ts';
import { type CalculationResult, runCalculation } from './run.ts';

interface Schema {
  readonly type?: string;
  readonly title?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly additionalProperties?: boolean | Schema;
}

type Path = readonly (string | number)[];

/** Paths of the fields of a schema that a person fills in and that lack a title. */
function untitledFields(schema: Schema, path: string): string[] {
  const branches = schema.anyOf ?? schema.oneOf;
  const inner = [
    ...Object.entries(schema.properties ?? {}).map(([name, field]) =>
      untitledFields(field, path ? `${path}.${name}` : name),
    ),
    ...(schema.items ? [untitledFields(schema.items, `${path}[]`)] : []),
    ...(branches ?? [])
      .filter((branch) => branch.properties || branch.items)
      .map((branch) => untitledFields(branch, path)),
  ].flat();
  const isLeaf = !schema.properties && !schema.items && !inner.length;
  const isBranching = branches?.some((branch) => branch.properties || branch.items) ?? false;
  return isLeaf && !isBranching && !schema.title ? [path] : inner;
}

/** Objects anywhere in a schema that would accept a field which they do not name. */
function openObjects(schema: Schema, path: string): string[] {
  const inner = [
    ...Object.entries(schema.properties ?? {}).map(([name, field]) =>
      openObjects(field, `${path}.${name}`),
    ),
    ...(schema.items ? [openObjects(schema.items, `${path}[]`)] : []),
    ...[...(schema.anyOf ?? []), ...(schema.oneOf ?? [])].map((branch) =>
      openObjects(branch, path),
    ),
  ].flat();
  return schema.properties && schema.additionalProperties !== false ? [path, ...inner] : inner;
}

/** Paths of every number in an input, the list elements included. */
function numberPaths(value: unknown, path: Path = []): Path[] {
  if (typeof value === 'number') return [path];
  if (Array.isArray(value)) {
    return value.slice(0, 2).flatMap((item, index) => numberPaths(item, [...path, index]));
  }
  if (typeof value === 'object' && value !== null) {
    return Object.entries(value).flatMap(([key, item]) => numberPaths(item, [...path, key]));
  }
  return [];
}

/** Whether nothing is a value of its own at a path: a reading below detection, for instance. */
function acceptsNull(schema: Schema | undefined, path: Path): boolean {
  if (!schema) return false;
  const branches = [...(schema.anyOf ?? []), ...(schema.oneOf ?? [])];
  const [key, ...rest] = path;
  if (key === undefined) return branches.some((branch) => branch.type === 'null');
  const next = typeof key === 'number' ? schema.items : schema.properties?.[key];
  return [next, ...branches.map((branch) => branch.properties?.[key])].some((candidate) =>
    acceptsNull(candidate, rest),
  );
}

/** A copy of an input with one value replaced. */
function replaced(input: unknown, path: Path, value: unknown): unknown {
  const copy = structuredClone(input) as Record<string | number, unknown>;
  let place = copy;
  for (const key of path.slice(0, -1)) place = place[key] as Record<string | number, unknown>;
  place[path[path.length - 1] as string | number] = value;
  return copy;
}

function problemsOf(result: CalculationResult) {
  if (result.outcome !== 'refused') throw new Error('was computed instead of refused');
  return result.problems;
}

function checkDrawing(drawing: Chart | LimitRule): void {
  expect(drawing.title).not.toBe('');
  if (drawing.kind === 'limit-rule') {
    expect(Number.isFinite(drawing.value)).toBe(true);
    expect(drawing.words).not.toBe('');
    return;
  }
  for (const series of drawing.series) {
    expect(series.x).toHaveLength(series.y.length);
    expect([...series.x, ...series.y].every(Number.isFinite)).toBe(true);
  }
}

describe('the catalogue', () => {
  it('lists every calculation once, in alphabetical order of its id', () => {
    const ids = catalogue.map((calculation) => calculation.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toEqual([...ids].sort());
    expect(ids.every((id) => /^[a-z]+(-[a-z0-9]+)*$/.test(id))).toBe(true);
  });

  it('finds a calculation by its id and names all of them when asked for another', () => {
    expect(calculationById('draw').title).toBe('Draw of the sample');
    expect(() => calculationById('nothing')).toThrow(/nothing.*attribute-plan.*weight-statistics/);
  });
});

describe.each(catalogue.map((calculation) => [calculation.id, calculation] as const))(
  '%s',
  (_, calculation) => {
    const inputSchema = z.toJSONSchema(calculation.input, { io: 'input' }) as Schema;
    const outputSchema = z.toJSONSchema(calculation.output) as Schema;

    it('states topic, version, title, purpose and source', () => {
      expect(topics).toContain(calculation.topic);
      expect(Number.isInteger(calculation.version) && calculation.version >= 1).toBe(true);
      for (const text of [calculation.title, calculation.purpose, calculation.source]) {
        expect(text.trim().length).toBeGreaterThan(5);
      }
      expect(Object.isFrozen(calculation)).toBe(true);
    });

    it('has schemas of closed objects that a form can be made from', () => {
      expect(inputSchema.type).toBe('object');
      expect(outputSchema.type).toBe('object');
      expect(openObjects(inputSchema, '')).toEqual([]);
    });

    it('has a title for every field that a person fills in, and for every result', () => {
      expect(untitledFields(inputSchema, '')).toEqual([]);
      expect(untitledFields(outputSchema, '')).toEqual([]);
    });

    it('computes its example, twice the same, in the shape that it states', () => {
      const result = runCalculation(calculation, calculation.example);
      if (result.outcome !== 'computed') throw new Error(JSON.stringify(result.problems));
      expect(result).toMatchObject({ id: calculation.id, version: calculation.version });
      expect(calculation.output.safeParse(result.output).error).toBeUndefined();
      expect(runCalculation(calculation, calculation.example)).toEqual(result);
    });

    it('keeps example and result when they travel as JSON', () => {
      const input = JSON.parse(JSON.stringify(calculation.example));
      const result = runCalculation(calculation, input);
      expect(result).toMatchObject({ outcome: 'computed' });
      if (result.outcome !== 'computed') return;
      expect(JSON.parse(JSON.stringify(result.output))).toEqual(result.output);
    });

    it('draws its example with finite figures', () => {
      const output = calculation.compute(calculation.example);
      const drawings = calculation.draw?.(calculation.example, output) ?? [];
      for (const drawing of drawings) checkDrawing(drawing);
    });

    const numbers = numberPaths(calculation.example);

    it.each(numbers.map((path) => [path.join('.'), path] as const))(
      'refuses text, NaN, infinity and nothing in place of the number %s',
      (field, path) => {
        const nothing = acceptsNull(inputSchema, path) ? [] : [null];
        for (const value of ['1', Number.NaN, Number.POSITIVE_INFINITY, ...nothing]) {
          const problems = problemsOf(
            runCalculation(calculation, replaced(calculation.example, path, value)),
          );
          // A field of several forms is refused as a whole; the path then ends above the number.
          const problem = problems.find(
            (candidate) => candidate.field === field || field.startsWith(`${candidate.field}.`),
          );
          expect(problem).toBeDefined();
          if (problem?.field === field) expect(problem.value).toBe(value);
          expect(problem?.accepted.trim()).not.toBe('');
        }
      },
    );

    it('refuses an unknown field by its name', () => {
      const problems = problemsOf(
        runCalculation(calculation, { ...(calculation.example as object), madeUpField: 1 }),
      );
      expect(problems.some((problem) => JSON.stringify(problem).includes('madeUpField'))).toBe(
        true,
      );
      expect(problems.every((problem) => problem.accepted !== '')).toBe(true);
    });

    it('refuses an input that lacks what is required, field by field', () => {
      const required = (inputSchema as { required?: readonly string[] }).required ?? [];
      const fields = problemsOf(runCalculation(calculation, {})).map((problem) => problem.field);
      expect(required.length).toBeGreaterThan(0);
      for (const name of required) expect(fields).toContain(name);
    });

    it.each([undefined, null, 'text', 1, [], true])('refuses the input %j', (input) => {
      expect(problemsOf(runCalculation(calculation, input)).length).toBeGreaterThan(0);
    });
  },
);
