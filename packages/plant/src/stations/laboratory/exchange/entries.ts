import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import {
  type DecimalSignChosenBody,
  decimalSignChosen,
  type WorksheetTakenBody,
  worksheetTaken,
} from './bodies.ts';
import { decimalSigns, theSign, worksheets } from './books.ts';

const station = 'laboratory';

const recordedBy = ({ number, instant, author }: RecordedEntry) => ({
  entry: number,
  instant,
  author,
});

async function applySign(
  books: BookWriter,
  entry: RecordedEntry<DecimalSignChosenBody>,
): Promise<void> {
  await books.put(decimalSigns, { ...entry.body, ...recordedBy(entry), of: theSign });
}

async function applyWorksheet(
  books: BookWriter,
  entry: RecordedEntry<WorksheetTakenBody>,
): Promise<void> {
  const { sha256 } = entry.body.file;
  await books.put(worksheets, { ...entry.body, ...recordedBy(entry), sha256 });
}

export const DecimalSignChosen = defineKind<DecimalSignChosenBody>({
  kind: 'DecimalSignChosen',
  version: 1,
  station,
  meaning:
    'The chief assayer chose the decimal sign of tables that are handed out as text. It changes no figure.',
  body: decimalSignChosen,
  postings: 'moves nothing',
  things: () => [],
  apply: applySign,
});

export const WorksheetTaken = defineKind<WorksheetTakenBody>({
  kind: 'WorksheetTaken',
  version: 1,
  station,
  meaning:
    'Readings were taken from a worksheet that was filled elsewhere. The file is kept beside the journal; the readings are an entry of their own.',
  body: worksheetTaken,
  postings: 'moves nothing',
  things: ({ melt, assayRun }) => [
    { thing: 'melt', id: melt },
    ...(assayRun === null ? [] : [{ thing: 'assay-run', id: assayRun }]),
  ],
  apply: applyWorksheet,
});

export const exchangeKinds = [DecimalSignChosen, WorksheetTaken] as const;
