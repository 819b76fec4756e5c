import { withRealMinus } from '@cupel/calculation';
import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import type { RoundRow } from './books.ts';
import { histories, openSignals } from './history.ts';

function signalPaper(row: RoundRow, open: readonly string[]): DocketPaper {
  return {
    paper: `laboratory/proficiency/${row.round}`,
    station: 'laboratory',
    what: `Round ${row.round} of ${row.scheme}, ${row.characteristic}: score ${withRealMinus(row.score.toFixed(2))}.`,
    why: `In it ${open.join('; ')}.`,
    holdsUp: 'Nothing; results of the same method may carry the same fault.',
    act: 'Answer signal',
    path: `/laboratory/proficiency/${encodeURIComponent(row.round)}`,
    since: row.instant,
    weight: 'look',
  };
}

/** Rounds whose signals wait for somebody to look into them. */
export async function proficiencyDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const all = await histories(books);
  return all.flatMap(({ rounds, output }) =>
    rounds.flatMap((row) => {
      const open = openSignals(row, output);
      return open.length === 0 ? [] : [signalPaper(row, open)];
    }),
  );
}
