import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import type { AwaitedCertificate } from './books.ts';
import { awaitedOf, certificatesOf } from './read-model.ts';

async function missingPaper(
  books: BookReader,
  consignment: string,
  missing: readonly AwaitedCertificate[],
): Promise<DocketPaper> {
  const standing = await certificatesOf(books, consignment);
  const strange = standing.flatMap((one) => one.strange);
  return {
    paper: `receiving-certificate-${consignment}`,
    station: 'receiving',
    what: `No certificate of consignment ${consignment} names ${missing.map(({ melt }) => melt).join(', ')}.`,
    why:
      strange.length === 0
        ? `${standing.length} ${standing.length === 1 ? 'certificate' : 'certificates'} came with it.`
        : `Its certificates name ${strange.join(', ')}, which did not come with it.`,
    holdsUp: 'Nothing; the plant assays every melt itself.',
    act: 'Attach the certificate, or go without',
    path: `/receiving/consignments/${encodeURIComponent(consignment)}/certificate`,
    since: missing.map(({ since }) => since).sort()[0] ?? '',
    weight: 'look',
  };
}

/**
 * Consignments of which some melts have a material certificate and others have none, until it is
 * attached or the chief assayer goes without: how far their samples have come changes nothing.
 */
export async function documentDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const byConsignment = new Map<string, AwaitedCertificate[]>();
  for (const row of await awaitedOf(books)) {
    byConsignment.set(row.consignment, [...(byConsignment.get(row.consignment) ?? []), row]);
  }
  const papers: DocketPaper[] = [];
  for (const [consignment, missing] of byConsignment) {
    papers.push(await missingPaper(books, consignment, missing));
  }
  return papers;
}
