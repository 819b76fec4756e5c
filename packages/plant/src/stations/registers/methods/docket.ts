import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { pieceStandards } from '../books.ts';
import { methodInForce } from './queries.ts';

/** Piece standards whose fineness is found without a method that says how. */
export async function methodDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers = new Map<string, DocketPaper>();
  for (const row of await books.select(pieceStandards)) {
    const { metal, assayMethod } = row;
    const finenessPerMille = row.finenessDeclaredPartsPerMillion / 1000;
    const found = await methodInForce(books, { assayMethod, metal, finenessPerMille });
    if (found.state === 'in force') continue;
    const isOutside = found.state === 'outside';
    const paper = `registers/state-method/${assayMethod}/${isOutside ? row.pieceStandard : metal}`;
    if (papers.has(paper)) continue;
    papers.set(paper, {
      paper,
      station: 'registers',
      what: isOutside
        ? `No method is stated for ${row.title}: ${finenessPerMille} ‰ lies outside every scope.`
        : `State the method: ${assayMethod} of ${metal} has none.`,
      why: isOutside
        ? `Scopes: ${found.editions.map(({ title, scope }) => `${title}, ${scope.leastPerMille} to ${scope.greatestPerMille} ‰`).join('; ')}.`
        : `${row.title} is assayed by it.`,
      holdsUp: isOutside
        ? `Every run of ${row.title}.`
        : 'Nothing; runs are recorded without asked controls.',
      act: 'State method',
      path: '/registers/state-method',
      since: row.since,
      weight: isOutside ? 'stopped' : 'look',
    });
  }
  return [...papers.values()];
}
