import type { BookReader } from './books.ts';
import type { Entry } from './entry.ts';
import { invariant } from './fault.ts';
import type { Posting } from './posting.ts';
import type { EntryKind } from './station.ts';

/** Weighings of one kind on one balance that a mass is the sum of. */
export type Weighed = {
  readonly instrument: string;
  /** Net masses read. */
  readonly readings: number;
  readonly grossMicrograms: number;
  /**
   * Standard deviation of the tare that was taken off each without weighing it; 0 where the empty
   * container was weighed too, or there was none.
   */
  readonly storedTareDeviationGrams: number;
};

/** What the postings of an entry were weighed with, as its kind says, or its own instrument. */
export async function weighingsOf(
  books: BookReader,
  entry: Entry,
  kind: EntryKind,
): Promise<readonly (readonly Weighed[])[]> {
  const { postings, instrument, body, number } = entry;
  if (postings.length === 0) return [];
  if (!kind.weighings) return postings.map((posting) => weighedOnce(posting, instrument));
  const declared = await kind.weighings(body, books);
  for (const [index, weighings] of declared.entries()) {
    const sum = weighings.reduce((total, one) => total + one.grossMicrograms, 0);
    const mass = postings[index]?.grossMicrograms;
    invariant(
      weighings.length === 0 || sum === mass,
      `weighings of ${sum} µg stand for posting ${index + 1} of entry ${number}, of ${mass} µg`,
    );
  }
  return declared;
}

function weighedOnce(posting: Posting, instrument: string | null): readonly Weighed[] {
  const { grossMicrograms, estimated } = posting;
  if (instrument === null || estimated || grossMicrograms === 0) return [];
  return [{ instrument, readings: 1, grossMicrograms, storedTareDeviationGrams: 0 }];
}
