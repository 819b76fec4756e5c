import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { plantDay } from '../../registers/index.ts';
import { keptPortions } from './read-model.ts';
import { exchangeDocket } from './reported/docket.ts';

/** Portions whose day has passed, and melts of which the other side found something else. */
export async function portionDocket(
  books: BookReader,
  instant: string,
): Promise<readonly DocketPaper[]> {
  const day = await plantDay(books, instant);
  const overdue = (await keptPortions(books)).filter(
    ({ keptUntil }) => keptUntil !== null && keptUntil < day,
  );
  const kept = overdue.map((row): DocketPaper => {
    const isHere = row.state === 'sealed';
    return {
      paper: `receiving-portion-${row.portion}`,
      station: 'receiving',
      what: `Portion ${row.portion} of melt ${row.melt}, for the ${row.for}, was kept until ${row.keptUntil}.`,
      why: isHere ? `It lies sealed in ${row.place}.` : `It is ${row.state}.`,
      holdsUp: `${(row.grossMicrograms / 1e6).toFixed(3)} g that could go on.`,
      act: isHere ? 'Return or discard the portion' : 'Take the portion back, or keep it longer',
      path: `/receiving/portions/${encodeURIComponent(row.portion)}`,
      since: `${row.keptUntil}T00:00:00.000Z`,
      weight: 'look',
    };
  });
  return [...kept, ...(await exchangeDocket(books))];
}
