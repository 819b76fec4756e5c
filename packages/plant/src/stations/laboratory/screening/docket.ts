import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { trials } from '../books.ts';
import { isClosed } from '../stage.ts';
import { type ScreeningRow, screenings } from './books.ts';

function flaggedPaper(melt: string, rows: readonly ScreeningRow[]): DocketPaper {
  const [first] = rows;
  const blanks = [...new Set(rows.map(({ blank }) => blank))];
  return {
    paper: `laboratory/screening/${melt}`,
    station: 'laboratory',
    what: `Melt ${melt}: the screening of ${blanks.length === 1 ? `blank ${blanks[0]}` : `${blanks.length} blanks`} deviates.`,
    why: rows.map(({ words }) => words).join(' '),
    holdsUp: `The release of melt ${melt}.`,
    act: 'Answer screening',
    path: `/laboratory/melts/${melt}/screening`,
    since: first?.instant ?? '',
    weight: 'stopped',
  };
}

/** Melts whose screenings deviate, until the chief assayer answers or has ruled on them. */
export async function screeningDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const open = await books.select(screenings, { by: 'byState', prefix: ['open'] });
  const papers: DocketPaper[] = [];
  for (const melt of new Set(open.map((row) => row.melt))) {
    const trial = await books.get(trials, melt);
    if (trial && isClosed(trial)) continue;
    papers.push(
      flaggedPaper(
        melt,
        open.filter((row) => row.melt === melt),
      ),
    );
  }
  return papers;
}
