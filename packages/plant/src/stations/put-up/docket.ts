import type { BookReader } from '../../journal/books.ts';
import { seesBook } from '../../journal/sees-book.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { tubes } from './books.ts';
import { deliveriesInTransit } from './in-transit.ts';
import { setAsidePapers } from './set-aside-papers.ts';

/** Tubes that wait to be weighed again or opened, tubes that are stopped, and what is in transit. */
export async function putUpDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const state of ['stopped', 'weigh again'] as const) {
    for (const row of await books.select(tubes, { by: 'byState', prefix: [state] })) {
      const isStopped = state === 'stopped';
      papers.push({
        paper: `put-up tube ${row.tube} ${row.filling}`,
        station: 'put-up',
        what: `Tube ${row.tube}, booked with ${row.pieces} pieces of melt ${row.melt}: ${row.words}`,
        why: isStopped
          ? 'Its weighings show another count.'
          : 'Its weighings do not prove the count yet.',
        holdsUp:
          'The tube cannot go into a box, and the shift cannot close while a piece is missing.',
        act: isStopped ? 'Open tube' : 'Weigh tube again',
        path: `/put-up/tubes/${encodeURIComponent(row.tube)}`,
        since: row.since,
        weight: isStopped ? 'stopped' : 'look',
      });
    }
  }
  papers.push(...(await setAsidePapers(books)));
  papers.push(...(await transitPapers(books)));
  return papers;
}

/** Deliveries that the press room has signed and put-up has not. */
async function transitPapers(books: BookReader): Promise<readonly DocketPaper[]> {
  const sent = await deliveriesInTransit(books);
  const why = 'Nobody has signed that they came.';
  const holdsUp = 'They are in transit and cannot be put into tubes.';
  return sent.map((row) => ({
    paper: `put-up delivery ${row.entry}`,
    station: 'put-up',
    what: `${row.pieces} pieces of run ${row.run}, melt ${row.melt}, were sent by ${row.author} and are signed by one side only.`,
    why,
    holdsUp,
    act: 'Accept delivery',
    path: '/put-up',
    since: row.instant,
    weight: 'look',
    readableBy: seesBook,
    // Whoever accepts them counts them, without knowing what was sent.
    toOthers: {
      what: `Pieces of run ${row.run}, melt ${row.melt}, were sent by ${row.author} and are signed by one side only.`,
      why,
      holdsUp,
      weight: 'look',
    },
  }));
}
