import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Refusal } from '../../journal/refusal.ts';
import type { Schema } from './schema-draft.ts';
import { fieldName, inWordsOfForm } from './schema-names.ts';

const input = z.strictObject({
  certified: z
    .array(z.strictObject({ standardUncertainty: z.number().meta({ title: 'Uncertainty' }) }))
    .meta({ title: 'Certified values' }),
  validUntil: z.string().nullable(),
});
const schema = z.toJSONSchema(input, { io: 'input' }) as Schema;

const notAccepted = (field: string, message: string): Refusal => ({
  refusal: 'InputNotAccepted',
  message,
  nextStep: 'Correct the field and send the command again.',
  field,
  figures: { field, value: 'missing', accepted: 'a number' },
});

describe('the names of fields', () => {
  it('are those of the form, rows counted from one', () => {
    expect(fieldName(schema, 'certified.3.standardUncertainty')).toBe(
      'Certified values, row 4, Uncertainty',
    );
    expect(fieldName(schema, 'validUntil')).toBe('Valid until');
  });

  it('stand in what is not accepted, and nothing else is changed', () => {
    const own = { ...notAccepted('melt', 'Melt M-1 is not known.'), figures: { melt: 'M-1' } };
    const told = inWordsOfForm(schema, [
      notAccepted('validUntil', 'validUntil is missing: a day.'),
      own,
    ]);
    expect(told.map(({ message }) => message)).toEqual([
      'Valid until is missing: a day.',
      'Melt M-1 is not known.',
    ]);
  });
});
