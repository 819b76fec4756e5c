import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { missingWords } from './missing-fields.ts';
import type { Schema } from './schema-draft.ts';

const input = z.strictObject({
  series: z.string().min(1).meta({ title: 'Series' }),
  prefix: z
    .string()
    .regex(/^[A-Z]{0,3}$/)
    .meta({ title: 'Before the digits' }),
  found: z.int().min(0),
  item: z.enum(['seal', 'label']).meta({ title: 'What' }),
  melt: z.string().nullable(),
  boxes: z.array(z.string()).min(1).meta({ title: 'Boxes' }),
  remark: z.string().min(3).optional(),
});
const schema = z.toJSONSchema(input, { io: 'input' }) as Schema;
const whole = { series: 'S', prefix: '', found: 0, item: 'seal', melt: null, boxes: ['B'] };

describe('missing words', () => {
  it('are none where every field that is asked for has something', () => {
    expect(missingWords(schema, whole)).toBeUndefined();
  });

  it('name the empty fields in the order of the form', () => {
    const empty = { ...whole, series: ' ', found: null, item: '', boxes: [] };
    expect(missingWords(schema, empty)).toBe('To be filled in first: Series, Found, What, Boxes.');
  });

  it('name a field that the form leaves out while it stands empty', () => {
    const { series: _series, ...others } = whole;
    expect(missingWords(schema, others)).toBe('To be filled in first: Series.');
  });
});
