import { withRealMinus } from '@cupel/calculation';
import type { BookReader } from '../../journal/books.ts';
import type { DocketPaper } from '../../journal/station.ts';
import type { Overview } from './overview.ts';
import { type ListedPeriod, openPeriods } from './period-list.ts';
import { placeName } from './place-name.ts';
import { seesBook } from './sees-book.ts';
import { type Series, seriesOf } from './series.ts';

/** A plant that closes no days gets so many papers at the most; the last of them says how many more wait. */
const mostPeriodPapers = 3;

function periodPaper(
  { period, length, shifts, lastClose }: ListedPeriod,
  more: number,
): DocketPaper {
  const count = `${shifts.length} ${shifts.length === 1 ? 'shift' : 'shifts'}`;
  const later = more === 0 ? '' : ` ${more} later ${more === 1 ? 'one waits' : 'ones wait'} too.`;
  return {
    paper: `account/period/${period}`,
    station: 'account',
    what: `${length === 'day' ? 'Day' : 'Month'} ${period} is over and not closed.${later}`,
    why: `Its ${count} ${shifts.length === 1 ? 'is' : 'are'} closed.`,
    holdsUp: length === 'day' ? 'The close of the month.' : 'The statement of the month.',
    act: `Close ${length}`,
    path: `/account/periods/${period}`,
    since: lastClose,
    weight: 'look',
  };
}

function papersOfLength(
  list: readonly ListedPeriod[],
  length: ListedPeriod['length'],
): readonly DocketPaper[] {
  const waiting = list.filter((one) => one.length === length && one.state === 'to be closed');
  const shown = waiting.slice(0, mostPeriodPapers);
  return shown.map((one, index) =>
    periodPaper(one, index === shown.length - 1 ? waiting.length - shown.length : 0),
  );
}

/** Days and months that are over, whose shifts are closed and that nobody has closed. */
export async function periodPapers(
  books: BookReader,
  present: string,
  { openShifts }: Pick<Overview, 'openShifts'>,
): Promise<readonly DocketPaper[]> {
  const list = await openPeriods(books, present, openShifts);
  return [...papersOfLength(list, 'day'), ...papersOfLength(list, 'month')];
}

function driftPaper(
  series: Series,
  signal: NonNullable<Series['signal']>,
  since: string,
): DocketPaper {
  const [{ place, pieceStandard }] = series.rows as [Series['rows'][number]];
  const last = series.output.periods.at(-1);
  const sum = signal.way === 'missing' ? last?.upperSum : last?.lowerSum;
  const grams = series.output.steadyLossGrams;
  return {
    paper: `account/drift/${place}/${pieceStandard}`,
    station: 'account',
    what: `Grams of ${pieceStandard} in ${placeName(place)} drift: ${signal.way} over many shifts, most likely since ${signal.sincePeriod}.`,
    why: `The sum is ${withRealMinus((sum ?? 0).toFixed(2))}, its limit ${series.output.decisionInterval}; over the whole series about ${Math.abs(grams).toFixed(3)} g a shift ${grams < 0 ? 'too much' : 'missing'}.`,
    holdsUp: 'Nothing; the sums go on until it is answered.',
    act: 'Answer drift',
    path: `/account/history/${place}/${pieceStandard}`,
    since,
    weight: 'look',
    readableBy: seesBook,
  };
}

/** Places whose sums signal: of the newest close, since only it can bring a new signal. */
export async function driftPapers(
  books: BookReader,
  { closing }: Pick<Overview, 'closing'>,
): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const { place, lines } of closing?.places ?? []) {
    for (const { pieceStandard, balance } of lines) {
      const series = balance ? await seriesOf(books, place, pieceStandard) : undefined;
      if (series?.signal) papers.push(driftPaper(series, series.signal, closing?.instant ?? ''));
    }
  }
  return papers;
}
