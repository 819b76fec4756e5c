import { catalogue } from '@cupel/calculation';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { JsonObject } from '../../ports/json.ts';
import { draftOf, inputOf, type Schema } from './schema-draft.ts';

// What the form of a calculation makes of its worked example is what the calculation takes.
describe('the form of a calculation', () => {
  it.each(catalogue.map((calculation) => [calculation.id, calculation] as const))(
    'gives the worked example of %s back as it was',
    (_, { input, example }) => {
      const schema = z.toJSONSchema(input, { io: 'input', unrepresentable: 'any' }) as Schema;
      const given = JSON.parse(JSON.stringify(example)) as JsonObject;
      expect(inputOf(schema, draftOf(schema, given))).toEqual(given);
    },
  );
});
