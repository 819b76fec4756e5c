import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { placeName, seesBook } from '../account/index.ts';
import { personOf } from '../registers/index.ts';
import type { SearchRow } from './books.ts';
import { openSearches } from './read-model.ts';
import { piecesText } from './suspicion.ts';

function paperOf(row: SearchRow, openedBy: string): DocketPaper {
  const differing = row.residuals.filter(({ pieces }) => pieces !== 0);
  const places = differing
    .map(
      ({ place, pieces }) =>
        `${piecesText(Math.abs(pieces))} ${pieces > 0 ? 'missing' : 'too many'} in ${placeName(place)}`,
    )
    .join(', ');
  return {
    paper: `search/${row.search}`,
    station: 'search',
    what: `Search ${row.search} for ${row.pieceStandard} is open${places ? `: ${places}` : ''}.`,
    why: `Opened by ${openedBy}, entry ${row.openedEntry}; ${row.minutesLooked} min of looking so far.`,
    holdsUp: differing.length > 0 ? 'The shift cannot be closed.' : 'Nothing.',
    act: 'Look where the search says',
    path: `/search/${row.search}`,
    since: row.openedInstant,
    weight: differing.length > 0 ? 'stopped' : 'look',
    readableBy: seesBook,
    // Everybody looks, and whoever counts does so without knowing what is missing.
    toOthers: {
      what: `Search ${row.search} for ${row.pieceStandard} is open.`,
      why: `Opened by ${openedBy}, entry ${row.openedEntry}; ${row.minutesLooked} min of looking so far.`,
      holdsUp: 'The end of the shift, perhaps.',
      weight: 'look',
    },
  };
}

/** The open searches. */
export async function searchDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const open = await openSearches(books);
  return Promise.all(
    open.map(async (row) =>
      paperOf(row, (await personOf(books, row.openedBy))?.name ?? row.openedBy),
    ),
  );
}
