import { z } from 'zod';
import { balanceOfPlace } from '../../../journal/core-books.ts';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { takenOut } from './books.ts';

/** What metal lies in the laboratory by melt, and in which forms some of it left. */
const laboratoryMetal = defineQuestion({
  question: 'laboratory-metal',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books, _input, { person }) => {
    // Those who count the laboratory's metal are not told what should lie there.
    const seesBook = person.roles.some((role) =>
      ['chief assayer', 'metal accountant', 'auditor'].includes(role),
    );
    const rows: Json[] = [];
    for (const row of await balanceOfPlace(books, 'laboratory')) {
      if (row.grossMicrograms === 0 && row.pieces === 0) continue;
      const out = await books.select(takenOut, { prefix: [row.melt] });
      rows.push({
        melt: row.melt,
        pieceStandard: row.pieceStandard,
        metal: row.metal,
        pieces: seesBook ? row.pieces : null,
        grossMicrograms: seesBook ? row.grossMicrograms : null,
        takenOut: out.map(({ form, to, grossMicrograms, estimated, basis, entry }) => ({
          form,
          to,
          grossMicrograms,
          estimated,
          basis,
          entry,
        })),
      });
    }
    return { seesBook, melts: rows };
  },
});

export const metalQuestions = [laboratoryMetal] as const;
