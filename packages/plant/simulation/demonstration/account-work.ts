import type { BookReader } from '../../src/journal/books.ts';
import { balanceOfPlace } from '../../src/journal/core-books.ts';
import { type InsidePlace, insidePlaces } from '../../src/journal/place.ts';
import type { PersonId } from './cast.ts';
import type { Scene } from './state.ts';

/** Who counts at a place. */
const counters: Readonly<Record<InsidePlace, PersonId>> = {
  receiving: 'bettina',
  laboratory: 'tamsin',
  'press-room': 'milo',
  'put-up': 'jonas',
  'strong-room': 'jonas',
  archive: 'bettina',
  scrap: 'milo',
  'in-transit': 'bettina',
};

/** Pieces that are missing at a place although the book says that they lie there. */
export interface MissingPieces {
  readonly place: InsidePlace;
  readonly pieceStandard: string;
  readonly pieces: number;
}

/** Counts every place that has ever held metal. */
export async function tallyPlaces(
  scene: Scene,
  books: BookReader,
  missing: readonly MissingPieces[] = [],
): Promise<void> {
  for (const place of insidePlaces) {
    const piecesByStandard = new Map<string, number>();
    for (const row of await balanceOfPlace(books, place)) {
      const before = piecesByStandard.get(row.pieceStandard) ?? 0;
      piecesByStandard.set(row.pieceStandard, before + row.pieces);
    }
    if (piecesByStandard.size === 0) continue;
    const lines = [...piecesByStandard].map(([pieceStandard, pieces]) => {
      const gone = missing.find(
        (item) => item.place === place && item.pieceStandard === pieceStandard,
      );
      return { pieceStandard, pieces: pieces - (gone?.pieces ?? 0), gross: null, instrument: null };
    });
    await scene.hand.do({
      by: counters[place],
      command: 'tally-place',
      input: { place, lines },
      seconds: 120,
    });
  }
}

/** Closes a shift after every place has been counted. */
export async function closeShift(scene: Scene, books: BookReader, shift: string): Promise<void> {
  await tallyPlaces(scene, books);
  await scene.hand.do({
    by: 'sorrel',
    with: 'jonas',
    command: 'close-shift',
    input: { shift },
    seconds: 120,
  });
}
