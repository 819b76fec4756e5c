import { calculationById } from '@cupel/calculation';
import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { idSchema } from '../../registers/index.ts';
import { type ScreeningRow, screenings } from './books.ts';

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

function drawn(row: ScreeningRow) {
  const { calculation, input, output } = row.screen;
  return calculationById(calculation).draw?.(input as never, output as never) ?? [];
}

/** Every screening of a melt, the newest first, with its drawing. */
const meltScreenings = defineQuestion({
  question: 'melt-screenings',
  station: 'laboratory',
  input: z.strictObject({ melt: idSchema }),
  answer: async (books, { melt }) => {
    const rows = await books.select(screenings, { prefix: [melt], descending: true });
    return asJson(rows.map((row) => ({ ...row, drawings: drawn(row) })));
  },
});

export const screeningQuestions = [meltScreenings] as const;
