import type { BookReader } from '../../journal/books.ts';
import { movements } from '../../journal/core-books.ts';
import type { Weighed } from '../../journal/weighed.ts';
import { pieceStandardOf } from '../registers/index.ts';
import type { BoxPacked, DeliveryAccepted, TubeInBox } from './bodies.ts';
import { weighings } from './books.ts';

/** What was accepted has the mass at which it was sent, and so the weighing of the sender. */
export async function weighingsOfAcceptance(
  { delivery }: DeliveryAccepted,
  books: BookReader,
): Promise<readonly (readonly Weighed[])[]> {
  const sent = await books.get(movements, delivery, 1);
  return [sent?.weighings ?? []];
}

/** A box takes over the masses of its tubes: each was weighed on the tube balance, and the box balance gave none. */
export async function weighingsOfBox(
  { melts, tubes, pieceStandard }: BoxPacked,
  books: BookReader,
): Promise<readonly (readonly Weighed[])[]> {
  const standard = await pieceStandardOf(books, pieceStandard);
  const deviationGrams = standard?.tubeTareStandardDeviationGrams ?? 0;
  const weighed: { melt: string; weighing: Weighed }[] = [];
  for (const tube of tubes) {
    const weighing = await weighingOf(books, tube, deviationGrams);
    if (weighing) weighed.push({ melt: tube.melt, weighing });
  }
  return melts.map(({ melt }) =>
    summedByKind(weighed.filter((one) => one.melt === melt).map(({ weighing }) => weighing)),
  );
}

async function weighingOf(
  books: BookReader,
  { tube, weighedEntry, netMicrograms }: TubeInBox,
  deviationGrams: number,
): Promise<Weighed | undefined> {
  const row = await books.get(weighings, tube, weighedEntry);
  return (
    row && {
      instrument: row.instrument,
      readings: 1,
      grossMicrograms: netMicrograms,
      storedTareDeviationGrams: row.tare === null ? deviationGrams : 0,
    }
  );
}

function summedByKind(each: readonly Weighed[]): readonly Weighed[] {
  const sums = new Map<string, Weighed>();
  for (const one of each) {
    const key = JSON.stringify([one.instrument, one.storedTareDeviationGrams]);
    const before = sums.get(key);
    sums.set(key, {
      ...one,
      readings: (before?.readings ?? 0) + one.readings,
      grossMicrograms: (before?.grossMicrograms ?? 0) + one.grossMicrograms,
    });
  }
  return [...sums.values()];
}
