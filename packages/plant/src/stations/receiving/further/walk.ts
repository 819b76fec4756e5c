import type { BookReader } from '../../../journal/books.ts';
import { blanks, drums } from '../books.ts';
import { type PickWalk, walkOf } from '../pick-walk.ts';
import type { FurtherRound } from './books.ts';

/** The picks of a round on their walk along the drums; no drums before they are drawn. */
export async function furtherWalk(
  books: BookReader,
  round: FurtherRound,
  trayPieces: number | null,
): Promise<Pick<PickWalk, 'words' | 'drums'>> {
  if (!round.drawn) return { words: '', drums: [] };
  const all = await books.select(blanks, { by: 'byMelt', prefix: [round.melt] });
  const here = await books.select(drums, { by: 'byMelt', prefix: [round.melt] });
  return walkOf({
    melt: round.melt,
    picks: all.filter(({ further }) => further === round.round),
    drums: here.filter(({ state }) => state !== 'returned').map(({ drum }) => drum),
    substitutions: round.substitutions,
    trayPieces,
  });
}
