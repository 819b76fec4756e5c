import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { type FurtherRound, furtherRounds } from './books.ts';

const blankWords = (pieces: number): string =>
  pieces === 1 ? 'One further blank' : `${pieces} further blanks`;

function paperOf(row: FurtherRound): DocketPaper {
  const { melt, round, pieces, drawn } = row;
  return {
    paper: `receiving-further-${melt}-${round}`,
    station: 'receiving',
    what: `${blankWords(pieces)} of melt ${melt} ${drawn ? 'are drawn and to be taken' : 'are asked for'}.`,
    why: row.reason,
    holdsUp: `The trial of melt ${melt}`,
    act: drawn ? 'Take the further blanks to the laboratory' : 'Draw the further blanks',
    path: `/receiving/melts/${encodeURIComponent(melt)}/further`,
    since: drawn?.instant ?? row.askedAt,
    weight: 'look',
  };
}

/** Further blanks that the laboratory waits for. */
export async function furtherDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const asked = await books.select(furtherRounds, { by: 'byState', prefix: ['asked'] });
  const drawn = await books.select(furtherRounds, { by: 'byState', prefix: ['drawn'] });
  return [...asked, ...drawn].map(paperOf);
}
