import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { resultFiles, resultMappings } from './books.ts';
import {
  type ResultFileTakenBody,
  type ResultMappingConfirmedBody,
  resultFileTaken,
  resultMappingConfirmed,
} from './result-bodies.ts';

const station = 'laboratory';

const recordedBy = ({ number, instant, author }: RecordedEntry) => ({
  entry: number,
  instant,
  author,
});

async function applyMapping(
  books: BookWriter,
  entry: RecordedEntry<ResultMappingConfirmedBody>,
): Promise<void> {
  await books.put(resultMappings, { ...entry.body, ...recordedBy(entry) });
}

async function applyFile(
  books: BookWriter,
  entry: RecordedEntry<ResultFileTakenBody>,
): Promise<void> {
  const { sha256 } = entry.body.file;
  await books.put(resultFiles, { ...entry.body, ...recordedBy(entry), sha256 });
}

export const ResultMappingConfirmed = defineKind<ResultMappingConfirmedBody>({
  kind: 'ResultMappingConfirmed',
  version: 1,
  station,
  meaning:
    'A person confirmed how the result files of a spectrometer are read, and what is known of its calibration. It is no result.',
  body: resultMappingConfirmed,
  postings: 'moves nothing',
  things: ({ instrument }) => [{ thing: 'instrument', id: instrument }],
  apply: applyMapping,
});

export const ResultFileTaken = defineKind<ResultFileTakenBody>({
  kind: 'ResultFileTaken',
  version: 1,
  station,
  meaning:
    'An assayer took the table of a spectrometer as the readings of a difference run. The file is kept beside the journal; the run itself is an entry of its own.',
  body: resultFileTaken,
  postings: 'moves nothing',
  things: ({ assayRun, melt, instrument }) => [
    { thing: 'assay-run', id: assayRun },
    { thing: 'melt', id: melt },
    { thing: 'instrument', id: instrument },
  ],
  apply: applyFile,
});

export const spectrometerKinds = [ResultMappingConfirmed, ResultFileTaken] as const;
