import type { BookReader } from '../../journal/books.ts';
import { shiftAt, threeShifts } from '../../journal/shift.ts';
import type { DocketPaper } from '../../journal/station.ts';
import { peopleOf, plantOf } from '../registers/index.ts';
import { type DifferenceRow, differences } from './books.ts';
import { type Comparison, compareTally } from './comparison.ts';
import { driftPapers, periodPapers } from './docket-periods.ts';
import { type OpenShift, overviewOf, type PlaceOverview } from './overview.ts';
import { placeName } from './place-name.ts';
import { seesBook } from './sees-book.ts';

const piecesOf = (count: number): string => `${count} ${count === 1 ? 'piece' : 'pieces'}`;

/** The shift that runs at an instant, by the plant's time. */
export async function presentShift(books: BookReader, instant: string): Promise<string> {
  const plant = await plantOf(books);
  return shiftAt({ timeZone: plant?.timeZone ?? 'UTC', shifts: threeShifts }, Date.parse(instant));
}

function differencePaper(
  place: PlaceOverview,
  line: Comparison,
  names: ReadonlyMap<string, string>,
): DocketPaper {
  const count = Math.abs(line.piecesDifference);
  const way = line.piecesDifference < 0 ? 'fewer' : 'more';
  const author = place.tally?.author ?? '';
  return {
    paper: `account/differs/${place.place}/${line.pieceStandard}`,
    station: 'account',
    what: `The tally of ${placeName(place.place)} found ${piecesOf(count)} of ${line.pieceStandard} ${way} than the postings say.`,
    why: `Tally of entry ${place.tally?.tally} by ${names.get(author) ?? author}.`,
    holdsUp: 'The shift cannot be closed.',
    act: 'Find the piece or sign the difference',
    path: `/account/places/${place.place}`,
    since: place.tally?.instant ?? '',
    weight: 'stopped',
    // Whoever counts again must not know what the first count missed.
    readableBy: seesBook,
  };
}

/** An estimate may be the cause, and is never taken for it. */
const estimatedWords = ({ grossMicrogramsEstimated: estimated }: DifferenceRow): string =>
  estimated === 0
    ? ''
    : ` ${(estimated / 1e6).toFixed(3)} g moved there by estimate, which no balance has shown.`;

function openDifferencePaper(row: DifferenceRow): DocketPaper {
  const grams = row.grossMicrograms / 1e6;
  const what =
    row.form === 'signed'
      ? `${piecesOf(Math.abs(row.pieces))} of ${row.pieceStandard} ${row.pieces < 0 || grams < 0 ? 'missing' : 'too much'} in ${placeName(row.place)} ${Math.abs(row.pieces) === 1 ? 'was signed for and is' : 'were signed for and are'} not explained.`
      : `${Math.abs(grams).toFixed(3)} g of ${row.pieceStandard} ${grams < 0 ? 'are missing' : 'are too much'} in ${placeName(row.place)}, more than the balances explain.${estimatedWords(row)}`;
  return {
    paper: `account/difference/${row.difference}`,
    station: 'account',
    what,
    why: `Difference ${row.difference} of shift ${row.shift}, entry ${row.entry}.`,
    holdsUp: 'Nothing; it stays here until it is explained.',
    act: 'Explain difference',
    path: `/account/differences/${row.difference}`,
    since: row.instant,
    weight: 'look',
    readableBy: seesBook,
  };
}

/** A plant that closes no shifts gets so many papers at the most; the last of them says how many more wait. */
const mostShiftPapers = 3;

function openShiftPaper(open: OpenShift, instant: string, more: number): DocketPaper {
  const { shift, movements, lastEntry } = open;
  const later = more === 0 ? '' : ` ${more} later ${more === 1 ? 'one waits' : 'ones wait'} too.`;
  return {
    paper: `account/open-shift/${shift}`,
    station: 'account',
    what: `Shift ${shift} is over and not closed; metal moved in it ${movements} times.${later}`,
    why: `Its last movement is in entry ${lastEntry}.`,
    holdsUp: 'The account of the shift.',
    act: 'Close shift',
    path: `/account/shifts/${shift}`,
    since: instant,
    weight: 'look',
  };
}

function openShiftPapers(
  openShifts: readonly OpenShift[],
  instant: string,
): readonly DocketPaper[] {
  const shown = openShifts.slice(0, mostShiftPapers);
  return shown.map((open, index) =>
    openShiftPaper(
      open,
      instant,
      index === shown.length - 1 ? openShifts.length - shown.length : 0,
    ),
  );
}

/** What waits at the account: pieces that differ, shifts left open, differences without explanation, drifts, periods to close. */
export async function accountDocket(
  books: BookReader,
  instant: string,
): Promise<readonly DocketPaper[]> {
  const overview = await overviewOf(books);
  const present = await presentShift(books, instant);
  const names = new Map((await peopleOf(books)).map(({ person, name }) => [person, name]));
  const differing = overview.places.flatMap((place) =>
    place.tally
      ? compareTally(place.tally, overview.signed)
          .filter((line) => line.piecesDifference !== 0)
          .map((line) => differencePaper(place, line, names))
      : [],
  );
  const open = await books.select(differences, { by: 'byState', prefix: ['open'] });
  const closedAt = overview.closing?.instant ?? instant;
  const shifts = overview.openShifts.filter(({ shift }) => shift !== present);
  return [
    ...differing,
    ...openShiftPapers(shifts, closedAt),
    ...open.map(openDifferencePaper),
    ...(await driftPapers(books, overview)),
    ...(await periodPapers(books, present, overview)),
  ];
}
