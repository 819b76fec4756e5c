import { defineBook } from '../../../journal/books.ts';
import type { Recorded } from '../books.ts';
import type { ResultFileTakenBody, ResultMappingConfirmedBody } from './result-bodies.ts';

export type ResultMappingRow = ResultMappingConfirmedBody & Recorded;

export const resultMappings = defineBook<ResultMappingRow>({
  name: 'laboratory_result_mapping',
  meaning: 'How the result files of a spectrometer are read, as a person confirmed it.',
  key: ['instrument'],
});

export type ResultFileRow = ResultFileTakenBody & Recorded & { readonly sha256: string };

export const resultFiles = defineBook<ResultFileRow>({
  name: 'laboratory_result_file',
  meaning: 'A result file of a spectrometer, and the figures of the run that was taken from it.',
  key: ['assayRun'],
  indexes: { byFile: ['sha256', 'entry'], byMelt: ['melt', 'entry'] },
});

export const spectrometerBooks = [resultMappings, resultFiles] as const;
