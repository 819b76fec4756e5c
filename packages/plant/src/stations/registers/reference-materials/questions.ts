import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import { plantDay } from '../index.ts';
import { referenceMaterials, referenceMaterialUses } from './books.ts';

/** Every reference material, also what has run out or was retired. */
const materials = defineQuestion({
  question: 'reference-materials',
  station: 'registers',
  input: z.strictObject({}),
  answer: async (books, _input, { instant }) => ({
    day: await plantDay(books, instant),
    referenceMaterials: await books.select(referenceMaterials),
  }),
});

const newestUses = 100;

/** One reference material with its newest uses. */
const material = defineQuestion({
  question: 'reference-material',
  station: 'registers',
  input: z.strictObject({ referenceMaterial: z.string() }),
  answer: async (books, { referenceMaterial }, { instant }) => {
    const row = await books.get(referenceMaterials, referenceMaterial);
    if (!row) return null;
    const uses = await books.select(referenceMaterialUses, {
      prefix: [referenceMaterial],
      descending: true,
      limit: newestUses,
    });
    return { day: await plantDay(books, instant), row, uses };
  },
});

export const referenceMaterialQuestions = [materials, material] as const;
