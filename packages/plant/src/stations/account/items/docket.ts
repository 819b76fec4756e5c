import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { numberSeries } from './books.ts';

/** Series whose newest count differs from what should be left. */
export async function itemPapers(books: BookReader): Promise<readonly DocketPaper[]> {
  return (await books.select(numberSeries)).flatMap(({ series, item, count }) => {
    if (!count || count.difference === 0) return [];
    const amount = Math.abs(count.difference);
    const way = count.difference < 0 ? 'missing' : 'too many';
    return [
      {
        paper: `account/numbers/${series}`,
        station: 'account',
        what: `${amount} ${item}${amount === 1 ? '' : 's'} of series ${series} ${amount === 1 ? 'is' : 'are'} ${way}.`,
        why: `Two people found ${count.found}; by receipt, use and spoil there should be ${count.found - count.difference}.`,
        holdsUp: 'Trust in what is sealed or labelled with these numbers.',
        act: 'Count them again, or spoil what was destroyed',
        path: '/account/items',
        since: count.instant,
        weight: 'look',
      },
    ];
  });
}
