import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { plantDay, supplierOf } from '../../registers/index.ts';
import type { Difference } from './books.ts';
import { differenceInWords } from './figures.ts';
import { type OpenDifferences, openDifferences, unsettledDifferences } from './queries.ts';

const station = 'receiving';

const counted = (count: number, one: string, more: string) =>
  `${count} ${count === 1 ? one : more}`;

function openPaper(open: OpenDifferences): DocketPaper {
  const { consignment: id, document } = open.consignment;
  const drums = open.lines.filter(({ thing }) => thing === 'drum').length;
  const melts = open.lines.length - drums;
  const things = [
    ...(drums > 0 ? [counted(drums, 'drum', 'drums')] : []),
    ...(melts > 0 ? [counted(melts, 'melt', 'melts')] : []),
  ].join(' and ');
  const pieces = open.lines.reduce((sum, line) => sum + line.differencePieces, 0);
  const micrograms = open.lines.reduce((sum, line) => sum + (line.differenceMicrograms ?? 0), 0);
  return {
    paper: `receiving-difference-open-${id}`,
    station,
    what: `${things} of consignment ${id} differ from ${document}: ${differenceInWords(pieces, micrograms)}.`,
    why: 'The supplier has not been told by a document.',
    holdsUp: 'What he owes, and the days within which it can be claimed.',
    act: 'Raise the difference',
    path: `/receiving/consignments/${encodeURIComponent(id)}/difference`,
    since: open.since,
    weight: 'look',
  };
}

function documentPaper(row: Difference, of: { supplierName: string; day: string }): DocketPaper {
  const { difference, consignment, answerDue, state } = row;
  const isOverdue = state === 'raised' && of.day > answerDue;
  const figures = differenceInWords(row.differencePieces, row.differenceMicrograms);
  const due = isOverdue
    ? `The answer was due on ${answerDue}.`
    : `The answer is due on ${answerDue}.`;
  return {
    paper: `receiving-difference-${difference}`,
    station,
    what: `Difference ${difference} with ${of.supplierName}, consignment ${consignment}: ${figures}.`,
    why: state === 'raised' ? due : `The supplier answered: ${row.answers.at(-1)?.answer}.`,
    holdsUp: 'What is owed for it.',
    act: state === 'raised' ? 'Record the answer' : 'Settle the difference',
    path: `/receiving/differences/${encodeURIComponent(difference)}`,
    since: row.since,
    weight: 'look',
  };
}

/** Differences that nobody has raised, and documents without an answer or a settlement. */
export async function differenceDocket(
  books: BookReader,
  instant: string,
): Promise<readonly DocketPaper[]> {
  const day = await plantDay(books, instant);
  const open = (await openDifferences(books)).filter(({ isReady }) => isReady).map(openPaper);
  const documents: DocketPaper[] = [];
  for (const row of await unsettledDifferences(books)) {
    const supplierName = (await supplierOf(books, row.supplier))?.name ?? row.supplier;
    documents.push(documentPaper(row, { supplierName, day }));
  }
  return [...open, ...documents];
}
