import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { choicesOf, draftOf, inputOf, type Schema, shapeOf, withPart } from './schema-draft.ts';

const input = z.strictObject({
  limit: z.number(),
  severity: z.enum(['normal', 'tightened']),
  level: z.literal([0.65, 1, 1.5]),
  masses: z.array(z.number()),
  containers: z.array(
    z.strictObject({ container: z.string(), pieces: z.int(), tray: z.int().optional() }),
  ),
  freedom: z.number().optional(),
  isClean: z.boolean(),
  tare: z.number().nullable(),
  sign: z.union([z.literal(1), z.literal(-1)]),
  correction: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('absolute'), milligrams: z.number() }),
    z.strictObject({ kind: z.literal('none') }),
  ]),
});
const schema = z.toJSONSchema(input, { io: 'input' }) as Schema;

const example = {
  limit: 916.6,
  severity: 'tightened',
  level: 1.5,
  masses: [7.5, 7.498],
  containers: [
    { container: 'D-1', pieces: 200, tray: 50 },
    { container: 'D-2', pieces: 180 },
  ],
  isClean: true,
  tare: null,
  sign: -1,
  correction: { kind: 'none' },
};

describe('the draft of a form', () => {
  it('gives back the very input that it was made from', () => {
    expect(inputOf(schema, draftOf(schema, example))).toEqual(example);
  });

  it('reads a decimal comma and pasted columns of numbers', () => {
    let draft = draftOf(schema, example);
    draft = withPart(draft, ['limit'], '999,5');
    draft = withPart(draft, ['masses'], '7,5\t7,6;7.7\n7,8');
    expect(inputOf(schema, draft)).toMatchObject({ limit: 999.5, masses: [7.5, 7.6, 7.7, 7.8] });
  });

  it('leaves empty rows at the end of a list out, and keeps one that is half filled', () => {
    const empty = { container: '', pieces: '', tray: '' };
    const half = { ...empty, pieces: '5' };
    const draft = draftOf(schema, example);
    const containers = (rows: readonly object[]) => {
      const changed = withPart(draft, ['containers'], rows as never);
      return (inputOf(schema, changed) as { containers: object[] }).containers;
    };
    const full = { container: 'D-1', pieces: '200', tray: '' };
    expect(containers([full, empty, empty])).toEqual([{ container: 'D-1', pieces: 200 }]);
    // The second row stays where it is, so that what is missing is refused as row 2 and row 3.
    expect(containers([full, empty, half, empty])).toEqual([
      { container: 'D-1', pieces: 200 },
      {},
      { pieces: 5 },
    ]);
    expect(containers([empty])).toEqual([]);
  });

  it('sends what is no number as it stands, and leaves out what is empty', () => {
    let draft = draftOf(schema, example);
    draft = withPart(draft, ['limit'], 'about 900');
    draft = withPart(draft, ['containers', 1, 'pieces'], '');
    expect(inputOf(schema, draft)).toMatchObject({
      limit: 'about 900',
      containers: [{}, { container: 'D-2' }],
    });
    const whole = inputOf(schema, draft) as { containers: object[] };
    expect(whole.containers[1]).toEqual({ container: 'D-2' });
  });

  it('keeps the alternative that the constant names', () => {
    const draft = draftOf(schema, {
      ...example,
      correction: { kind: 'absolute', milligrams: 0.12 },
    });
    expect(inputOf(schema, draft)).toMatchObject({
      correction: { kind: 'absolute', milligrams: 0.12 },
    });
  });

  it('starts empty where there is no example, with as many rows as are needed', () => {
    const list = {
      type: 'array',
      minItems: 2,
      items: { type: 'object', properties: { a: { type: 'number' } } },
    };
    expect(draftOf(list, undefined)).toEqual([{ a: '' }, { a: '' }]);
  });

  it('says no where nothing is ticked', () => {
    const blank = draftOf(schema, undefined);
    expect(inputOf(schema, blank)).toMatchObject({ isClean: false });
  });

  it('asks for a document where the schema takes the hash of one', () => {
    const hash = z.string().regex(/^[0-9a-f]{64}$/);
    expect(shapeOf(z.toJSONSchema(hash) as Schema)).toBe('document');
    expect(shapeOf(z.toJSONSchema(z.string()) as Schema)).toBe('text');
  });
});

describe('the choices of a schema', () => {
  it('names places by their signs', () => {
    const schema = z.toJSONSchema(z.enum(['press-room', 'put-up', 'in-transit'])) as Schema;
    expect(choicesOf(schema).map(({ label }) => label)).toEqual([
      'Press room',
      'Put-up',
      'In transit',
    ]);
    expect(choicesOf(schema).map(({ value }) => value)).toEqual([
      'press-room',
      'put-up',
      'in-transit',
    ]);
  });

  it('leaves other choices as they stand', () => {
    expect(choicesOf({ enum: ['press-room', 'seal'] })[0]).toEqual({
      value: 'press-room',
      label: 'press-room',
    });
  });
});
