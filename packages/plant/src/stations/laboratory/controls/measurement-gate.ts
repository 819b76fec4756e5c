import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import type { BlankRow } from '../books.ts';
import { type Hold, holdsOn } from './holds.ts';
import { controlRefusals } from './refusals.ts';

/** A measurement of blanks in doubt, and why. */
export interface HeldMeasurement {
  readonly melt: string;
  readonly entry: number;
  readonly blanks: readonly string[];
  readonly hold: Hold;
}

/** The measurements of a melt that are in doubt. */
export async function heldMeasurements(
  books: BookReader,
  blanks: Iterable<BlankRow>,
): Promise<readonly HeldMeasurement[]> {
  const byEntry = new Map<number, BlankRow[]>();
  for (const row of blanks) {
    const { entry } = row.measurement;
    byEntry.set(entry, [...(byEntry.get(entry) ?? []), row]);
  }
  const found: HeldMeasurement[] = [];
  for (const [entry, rows] of byEntry) {
    const [first] = rows;
    if (!first) continue;
    const { balance, micrometer } = first.measurement;
    const made = { entry, instruments: [balance, micrometer] };
    for (const hold of await holdsOn(books, made)) {
      found.push({ melt: first.melt, entry, blanks: rows.map((row) => row.blank), hold });
    }
  }
  return found;
}

/** Why a melt may not be released on its measured blanks. */
export function measurementGate(measurements: readonly HeldMeasurement[]): readonly Refusal[] {
  return measurements.map(({ melt, entry, blanks, hold }) =>
    refuse(controlRefusals, 'MeasurementHeld', {
      message: `The measurement of ${blanks.length} blanks in entry ${entry} is in doubt. ${hold.words}`,
      figures: { melt, entry, blanks: blanks.length, hold: hold.hold },
    }),
  );
}
