import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { tubes } from './books.ts';

/** Tubes that wait to be weighed again, and tubes that are stopped. */
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
  return papers;
}
