import type { BookReader } from '../../../../journal/books.ts';
import type { DocketPaper } from '../../../../journal/station.ts';
import { portionsOfMelt } from '../read-model.ts';
import { type ExchangeRow, exchanges } from './books.ts';
import { type Comparison, compareResults, exchangedFineness } from './compare.ts';
import { standingResults } from './read-model.ts';

/** What is done about results that part, and where. */
async function wayOut(books: BookReader, { melt, state }: ExchangeRow) {
  const settle = {
    act: 'Settle the exchange',
    path: `/receiving/melts/${encodeURIComponent(melt)}/exchange`,
  };
  if (state === 'umpire has spoken') {
    return { ...settle, why: 'The umpire has spoken, and nobody has settled.' };
  }
  const umpires = (await portionsOfMelt(books, melt)).filter((row) => row.for === 'umpire');
  const outside = umpires.find((row) => row.state === 'with the umpire');
  const sealed = umpires.find((row) => row.state === 'sealed');
  const portion = outside ?? sealed;
  if (!portion) return { ...settle, why: 'No portion for the umpire is left.' };
  const path = `/receiving/portions/${encodeURIComponent(portion.portion)}`;
  return outside
    ? { act: "Record the umpire's result", path, why: `Portion ${portion.portion} is with him.` }
    : {
        act: "Send the umpire's portion, or settle",
        path,
        why: `Portion ${portion.portion} lies sealed for the umpire.`,
      };
}

const limitWords = ({ limit }: Comparison): string =>
  limit.from === 'stated'
    ? `the splitting limit is ${limit.perMille} ‰`
    : `the two uncertainties explain ${limit.perMille.toFixed(2)} ‰`;

async function exchangePaper(books: BookReader, row: ExchangeRow): Promise<readonly DocketPaper[]> {
  const { melt, since } = row;
  const standing = await standingResults(books, melt);
  const comparison = compareResults(standing);
  const { own, supplier, umpire } = standing;
  if (!own || !supplier || !comparison) return [];
  const apart = Math.abs(comparison.output.differencePerMille);
  const found = umpire ? `, the umpire ${umpire.fineness.text} ‰` : '';
  return [
    {
      paper: `receiving-exchange-${melt}`,
      station: 'receiving',
      what: `Melt ${melt}: the supplier found ${supplier.fineness.text} ‰, the plant ${exchangedFineness(own)} ‰${found}. The parties lie ${Number(apart.toFixed(6))} ‰ apart; ${limitWords(comparison)}.`,
      holdsUp: 'By which fineness the melt is paid for.',
      ...(await wayOut(books, row)),
      since,
      weight: 'look',
    },
  ];
}

/** Melts whose results part beyond the limit, until two people settle them. */
export async function exchangeDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const state of ['apart', 'umpire has spoken'] as const) {
    for (const row of await books.select(exchanges, { by: 'byState', prefix: [state] })) {
      papers.push(...(await exchangePaper(books, row)));
    }
  }
  return papers;
}
