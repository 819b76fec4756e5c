import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { defineQuestion } from '../../../journal/station.ts';
import { idSchema, instrumentsAtPlace, personOf } from '../../registers/index.ts';
import { meltFacts } from '../melt-facts.ts';
import { isClosed } from '../stage.ts';
import { examinations } from './books.ts';

const windowOf = (least: number | undefined, greatest: number | undefined) =>
  least === undefined && greatest === undefined
    ? null
    : { least: least ?? null, greatest: greatest ?? null };

/** What was examined of the blanks of a melt, newest first, each with the name of its examiner. */
async function examined(books: BookReader, melt: string) {
  const rows = await books.select(examinations, { prefix: [melt], descending: true });
  return Promise.all(
    rows.map(async (row) => ({
      ...row,
      authorName: (await personOf(books, row.author))?.name ?? row.author,
    })),
  );
}

/** Hardness, grain size and edges of the blanks of a melt, and what a further one is held to. */
const meltExaminations = defineQuestion({
  question: 'melt-examinations',
  station: 'laboratory',
  input: z.strictObject({ melt: idSchema }),
  answer: async (books, { melt }) => {
    const facts = await meltFacts(books, melt);
    if (facts.known !== 'sampled') return null;
    const { standard, drawn, measured, trial } = facts;
    return {
      melt,
      pieceStandard: standard.pieceStandard,
      pieceStandardTitle: standard.title,
      metal: standard.metal,
      isOpen: trial === undefined || !isClosed(trial),
      blanks: [...drawn.keys()].map((blank) => ({
        blank,
        isCut: Boolean(measured.get(blank)?.cut),
        thicknessMillimetres: measured.get(blank)?.measurement.thicknessMillimetres ?? null,
      })),
      hardness: windowOf(standard.hardnessLeastVickers, standard.hardnessGreatestVickers),
      grainSize: windowOf(standard.grainSizeLeast, standard.grainSizeGreatest),
      instruments: (await instrumentsAtPlace(books, 'laboratory')).map((one) => ({ ...one })),
      examinations: await examined(books, melt),
    };
  },
});

export const examinationQuestions = [meltExaminations] as const;
