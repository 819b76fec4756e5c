import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { idSchema } from '../../registers/index.ts';
import { resultFiles, resultMappings } from './books.ts';

const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

/** How the result files of every spectrometer are read. */
const resultMappingsQuestion = defineQuestion({
  question: 'result-mappings',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books) => asJson(await books.select(resultMappings)),
});

/** The file that a difference run was taken from; nothing for a run that was typed. */
const resultFile = defineQuestion({
  question: 'result-file',
  station: 'laboratory',
  input: z.strictObject({ assayRun: idSchema }),
  answer: async (books, { assayRun }) => asJson((await books.get(resultFiles, assayRun)) ?? null),
});

/** Which runs of a melt were taken from a file. */
const filesOfMelt = defineQuestion({
  question: 'result-files',
  station: 'laboratory',
  input: z.strictObject({ melt: idSchema }),
  answer: async (books, { melt }) => {
    const rows = await books.select(resultFiles, { by: 'byMelt', prefix: [melt] });
    return rows.map(({ assayRun, file }) => ({ assayRun, name: file.name }));
  },
});

export const spectrometerQuestions = [resultMappingsQuestion, resultFile, filesOfMelt] as const;
