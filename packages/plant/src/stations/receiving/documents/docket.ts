import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { meltsOfConsignment } from '../index.ts';
import { openConsignments } from '../questions.ts';
import { certificatesOf } from './read-model.ts';

/** Consignments of which some melts have a material certificate and others have none. */
export async function documentDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const { consignment } of await openConsignments(books)) {
    const standing = await certificatesOf(books, consignment);
    const newest = standing.at(-1);
    if (!newest) continue;
    const named = new Set(standing.flatMap(({ melts }) => melts));
    const missing = (await meltsOfConsignment(books, consignment)).filter(
      ({ melt, state }) => !named.has(melt) && state !== 'returned',
    );
    if (missing.length === 0) continue;
    const strange = standing.flatMap((one) => one.strange);
    papers.push({
      paper: `receiving-certificate-${consignment}`,
      station: 'receiving',
      what: `No certificate of consignment ${consignment} names ${missing.map(({ melt }) => melt).join(', ')}.`,
      why:
        strange.length === 0
          ? `${standing.length} certificates came with it.`
          : `Its certificates name ${strange.join(', ')}, which did not come with it.`,
      holdsUp: 'Nothing; the plant assays every melt itself.',
      act: 'Attach the certificate',
      path: `/receiving/consignments/${encodeURIComponent(consignment)}/certificate`,
      since: newest.instant,
      weight: 'look',
    });
  }
  return papers;
}
