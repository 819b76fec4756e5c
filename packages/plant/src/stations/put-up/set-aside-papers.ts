import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { type DoubtfulWeighing, doubtOfWeighing } from '../laboratory/index.ts';
import { suspectIntervalsOf } from '../registers/index.ts';
import { type TubeRow, tubes } from './books.ts';

function setAsidePaper(
  { tube, filling, pieces, melt, since }: TubeRow,
  { words }: DoubtfulWeighing,
) {
  return {
    paper: `put-up set aside ${tube} ${filling}`,
    station: 'put-up',
    what: `A weighing of tube ${tube}, booked with ${pieces} pieces of melt ${melt}, was set aside.`,
    why: words,
    holdsUp: 'The tube cannot go into a box.',
    act: 'Open tube, and weigh it again',
    path: `/put-up/tubes/${encodeURIComponent(tube)}`,
    since,
    weight: 'look',
  } satisfies DocketPaper;
}

/** Tubes that wait for their box although a weighing of theirs was set aside, until they are opened. */
export async function setAsidePapers(books: BookReader): Promise<readonly DocketPaper[]> {
  const intervals = await suspectIntervalsOf(books);
  if (intervals.length === 0) return [];
  const isReached = (reading: TubeRow['readings'][number]) =>
    intervals.some(
      ({ instrument, from, through }) =>
        instrument === reading.instrument && reading.entry > from && reading.entry < through,
    );
  const papers: DocketPaper[] = [];
  for (const row of await books.select(tubes, { by: 'byState', prefix: ['proved'] })) {
    for (const reading of row.readings.filter(isReached)) {
      const doubt = await doubtOfWeighing(books, reading);
      if (!doubt?.isSetAside) continue;
      papers.push(setAsidePaper(row, doubt));
      break;
    }
  }
  return papers;
}
