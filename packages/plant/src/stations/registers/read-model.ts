import type { z } from 'zod';
import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type { calibrationBody, dieBody, plantFounded } from './bodies.ts';
import {
  dies,
  instruments,
  type Purchaser,
  people,
  pieceStandards,
  plants,
  purchasers,
  type Supplier,
  suppliers,
} from './books.ts';
import type { RegisteredInstrument } from './instruments.ts';
import type { EnrolledPerson } from './people.ts';
import type { PieceStandard } from './piece-standard.ts';

/** The key of the one record of the book of plants. */
const thisPlant = 'plant';

const standing = (entry: RecordedEntry) => ({ entry: entry.number, since: entry.instant });

export async function applyPlant(
  books: BookWriter,
  entry: RecordedEntry<z.infer<typeof plantFounded>>,
): Promise<void> {
  await books.put(plants, { plant: thisPlant, ...entry.body, entry: entry.number });
}

export async function applyPerson(
  books: BookWriter,
  entry: RecordedEntry<EnrolledPerson>,
): Promise<void> {
  await books.put(people, { ...entry.body, ...standing(entry) });
}

export async function applyPieceStandard(
  books: BookWriter,
  entry: RecordedEntry<PieceStandard>,
): Promise<void> {
  await books.put(pieceStandards, { ...entry.body, ...standing(entry) });
}

export async function applySupplier(
  books: BookWriter,
  entry: RecordedEntry<Supplier>,
): Promise<void> {
  await books.put(suppliers, { ...entry.body, ...standing(entry) });
}

export async function applyPurchaser(
  books: BookWriter,
  entry: RecordedEntry<Purchaser>,
): Promise<void> {
  await books.put(purchasers, { ...entry.body, ...standing(entry) });
}

export async function applyInstrument(
  books: BookWriter,
  entry: RecordedEntry<RegisteredInstrument>,
): Promise<void> {
  await books.put(instruments, { ...entry.body, document: null, ...standing(entry) });
}

export async function applyCalibration(
  books: BookWriter,
  entry: RecordedEntry<z.infer<typeof calibrationBody>>,
): Promise<void> {
  const before = await books.get(instruments, entry.body.instrument);
  if (!before) return;
  // A calibration opens a stopped instrument again, and counts as its last good check.
  const { stopped: _stopped, lastGood: _lastGood, ...working } = before;
  await books.put(instruments, { ...working, ...entry.body, ...standing(entry) });
}

export async function applyDie(
  books: BookWriter,
  entry: RecordedEntry<z.infer<typeof dieBody>>,
): Promise<void> {
  await books.put(dies, { ...entry.body, ...standing(entry) });
}

/** The chief assayers who are still in the plant, beside one person. */
export async function otherChiefAssayers(
  books: BookReader,
  person: string,
): Promise<readonly string[]> {
  const rows = await books.select(people);
  return rows
    .filter((row) => row.active && row.person !== person && row.roles.includes('chief assayer'))
    .map((row) => row.person);
}
