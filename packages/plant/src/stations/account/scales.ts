import type { BookReader } from '../../journal/books.ts';
import { instrumentOf, instrumentsAtPlace, pieceStandardOf } from '../registers/index.ts';
import type { Period } from './period.ts';
import { type Scale, scaleOf } from './shift-balance.ts';

/** What the register knows that enters a shift's metal balances. */
export interface Scales {
  /** By id: the balances of the tallies, and those that gave the masses of the movements. */
  readonly byInstrument: ReadonlyMap<string, Scale>;
  /** By place: the balance that stands there; where several do, the coarsest. */
  readonly byPlace: ReadonlyMap<string, Scale>;
  /** Declared mass of one piece, by piece standard. */
  readonly massMilligrams: ReadonlyMap<string, number>;
}

/** Reads from the register what is known of the balances and piece standards of the period. */
export async function scalesOf(books: BookReader, period: Period): Promise<Scales> {
  const byInstrument = new Map<string, Scale>();
  const byPlace = new Map<string, Scale>();
  const massMilligrams = new Map<string, number>();
  const used = new Set(
    period.movements.flatMap(({ weighings }) => weighings.map(({ instrument }) => instrument)),
  );
  for (const { place, tally } of period.places) {
    for (const line of tally?.lines ?? []) {
      if (line.instrument) used.add(line.instrument);
      const standard = await pieceStandardOf(books, line.pieceStandard);
      if (standard) massMilligrams.set(line.pieceStandard, standard.massDeclaredMilligrams);
    }
    const standing = (await instrumentsAtPlace(books, place))
      .filter((instrument) => instrument.kind === 'balance')
      .flatMap((instrument) => scaleOf(instrument) ?? [])
      .sort((a, b) => b.readingStandardDeviationGrams - a.readingStandardDeviationGrams);
    if (standing[0]) byPlace.set(place, standing[0]);
  }
  for (const instrument of used) {
    const scale = scaleOf(await instrumentOf(books, instrument));
    if (scale) byInstrument.set(instrument, scale);
  }
  return { byInstrument, byPlace, massMilligrams };
}
