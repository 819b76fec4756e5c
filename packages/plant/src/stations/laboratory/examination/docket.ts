import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { trials } from '../books.ts';
import { isClosed } from '../stage.ts';
import { type ExaminationRow, examinations } from './books.ts';

/** Older findings than so many wait no longer; the melt of each has been ruled long ago. */
const newestRead = 200;

async function isWaiting(books: BookReader, row: ExaminationRow): Promise<boolean> {
  if (row.setAside !== null) return false;
  const trial = await books.get(trials, row.melt);
  return trial === undefined || !isClosed(trial);
}

/** Findings outside their limits on melts that are not ruled on. */
export async function examinationDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const rows = await books.select(examinations, {
    by: 'byFinding',
    prefix: ['outside'],
    descending: true,
    limit: newestRead,
  });
  const papers: DocketPaper[] = [];
  for (const row of rows) {
    if (!(await isWaiting(books, row))) continue;
    papers.push({
      paper: `laboratory/examination/${row.entry}`,
      station: 'laboratory',
      what: `The ${row.quality} of blank ${row.blank} lies outside its limits.`,
      why: row.words,
      holdsUp: `The ruling on melt ${row.melt}.`,
      act: 'Weigh it in the ruling on the melt',
      path: `/laboratory/melts/${row.melt}`,
      since: row.instant,
      weight: 'look',
    });
  }
  return papers;
}
