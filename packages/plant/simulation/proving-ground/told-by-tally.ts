import type { InsidePlace } from '../../src/journal/place.ts';
import { tallies } from '../../src/stations/account/books.ts';
import type { Ground } from './ground.ts';

/** Pieces that the newest tally of a place says of a piece standard. */
export async function toldByTally(
  ground: Ground,
  place: InsidePlace,
  pieceStandard: string,
): Promise<number | undefined> {
  const selection = { by: 'byPlace', prefix: [place], descending: true, limit: 1 };
  const [newest] = await ground.plant.books.select(tallies, selection);
  return newest?.lines.find((line) => line.pieceStandard === pieceStandard)?.pieces;
}
