import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import type {
  ConsignmentAnnouncedBody,
  DrumAdmittedBody,
  DrumReturnedBody,
  DrumStoppedBody,
  DrumTalliedBody,
  DrumWeighedBody,
  PackingListColumnsKeptBody,
  SampleDrawnBody,
  SamplesOrderedBody,
  SupplierFinenessStatedBody,
} from './bodies.ts';
import {
  blanks,
  type Consignment,
  consignments,
  type Drum,
  drums,
  melts,
  packingListColumns,
  samplingOrders,
  seals,
  supplierFinenesses,
} from './books.ts';
import { followDrum } from './difference/read-model.ts';
import { fineOf } from './postings.ts';

/** The drums of a consignment, in the order of their ids; also those sent back. */
export async function drumsOfConsignment(
  books: BookReader,
  consignment: string,
): Promise<readonly Drum[]> {
  return books.select(drums, { by: 'byConsignment', prefix: [consignment] });
}

export async function applyAnnouncement(
  books: BookWriter,
  entry: RecordedEntry<ConsignmentAnnouncedBody>,
): Promise<void> {
  const { melts: meltRows, drums: drumRows, ...head } = entry.body;
  const unseeded = { seedEntry: null, seedHash: null, seedAt: null };
  await books.put(consignments, {
    ...head,
    entry: entry.number,
    announcedAt: entry.instant,
    state: 'announced',
    ...unseeded,
  });
  const { consignment, supplier, pieceStandard } = head;
  for (const { melt, pieces } of meltRows) {
    const state = 'announced' as const;
    await books.put(melts, { melt, consignment, supplier, pieceStandard, pieces, state });
  }
  for (const row of drumRows) {
    await books.put(drums, announcedDrumRow(row, entry));
    await books.put(seals, { seal: row.seal, drum: row.drum, entry: entry.number });
  }
}

function announcedDrumRow(
  row: ConsignmentAnnouncedBody['drums'][number],
  entry: RecordedEntry<ConsignmentAnnouncedBody>,
): Drum {
  return {
    drum: row.drum,
    consignment: entry.body.consignment,
    melt: row.melt,
    piecesDocumented: row.pieces,
    pieces: row.pieces,
    grossDocumented: row.gross,
    tareDocumented: row.tare,
    netDocumentedMicrograms: row.netMicrograms,
    netMicrograms: null,
    fineMicrograms: 0,
    seal: row.seal,
    state: 'announced',
    stateBeforeStop: null,
    stopReason: null,
    needsTallyInAnyCase: false,
    netReadingsMicrograms: [],
    count: null,
    words: '',
    changedAt: entry.instant,
  };
}

export async function applySupplierFineness(
  books: BookWriter,
  entry: RecordedEntry<SupplierFinenessStatedBody>,
): Promise<void> {
  for (const row of entry.body.melts) {
    await books.put(supplierFinenesses, { ...row, entry: entry.number });
  }
}

async function changeDrum(
  books: BookWriter,
  entry: RecordedEntry<{ readonly drum: string }>,
  change: (drum: Drum) => Partial<Drum>,
): Promise<void> {
  const drum = await books.get(drums, entry.body.drum);
  if (drum) await books.put(drums, { ...drum, ...change(drum), changedAt: entry.instant });
}

/** The newest entry that settled a drum of the consignment: its hash is the seed of the draw. */
async function seedConsignment(
  books: BookWriter,
  entry: RecordedEntry<{ readonly consignment: string }>,
): Promise<void> {
  await changeConsignment(books, entry.body.consignment, {
    seedEntry: entry.number,
    seedHash: entry.hash,
    seedAt: entry.instant,
  });
}

async function changeConsignment(
  books: BookWriter,
  consignment: string,
  change: Partial<Consignment>,
): Promise<void> {
  const row = await books.get(consignments, consignment);
  if (row) await books.put(consignments, { ...row, ...change });
}

export async function applyWeighing(
  books: BookWriter,
  entry: RecordedEntry<DrumWeighedBody>,
): Promise<void> {
  const { body } = entry;
  const isAccepted = body.state !== 'weigh again';
  await changeDrum(books, entry, (drum) => ({
    state: body.state,
    netReadingsMicrograms: [...drum.netReadingsMicrograms, body.netMicrograms],
    netMicrograms: isAccepted ? body.netMicrograms : null,
    fineMicrograms: isAccepted
      ? fineOf(body.netMicrograms, body.finenessDeclaredPartsPerMillion)
      : 0,
    count: body.count,
    words: body.words,
  }));
  await followDrum(books, entry, { drum: body.drum });
  await seedConsignment(books, entry);
}

export async function applyTally(
  books: BookWriter,
  entry: RecordedEntry<DrumTalliedBody>,
): Promise<void> {
  const { piecesFound } = entry.body;
  await changeDrum(books, entry, () => ({ state: 'tallied', pieces: piecesFound }));
  await recountMelt(books, entry.body.melt);
  await followDrum(books, entry, { drum: entry.body.drum });
  await seedConsignment(books, entry);
}

export async function applyStop(
  books: BookWriter,
  entry: RecordedEntry<DrumStoppedBody>,
): Promise<void> {
  await changeDrum(books, entry, (drum) => ({
    state: 'stopped',
    stateBeforeStop: drum.state,
    stopReason: entry.body.reason,
  }));
  const { drum, sealFound } = entry.body;
  await followDrum(books, entry, { drum, sealFound });
}

export async function applyAdmission(
  books: BookWriter,
  entry: RecordedEntry<DrumAdmittedBody>,
): Promise<void> {
  const { drum, sealAdmitted } = entry.body;
  await changeDrum(books, entry, (row) => ({
    // A count proved before the seal was found wrong proves nothing afterwards.
    state: row.netMicrograms === null ? (row.stateBeforeStop ?? 'announced') : 'needs tally',
    stateBeforeStop: null,
    seal: sealAdmitted,
    needsTallyInAnyCase: true,
  }));
  await books.put(seals, { seal: sealAdmitted, drum, entry: entry.number });
}

export async function applyReturn(
  books: BookWriter,
  entry: RecordedEntry<DrumReturnedBody>,
): Promise<void> {
  await changeDrum(books, entry, () => ({ state: 'returned' }));
  await recountMelt(books, entry.body.melt);
  await followDrum(books, entry, { drum: entry.body.drum });
}

/** The pieces of a melt are those of its drums that have not gone back. */
async function recountMelt(books: BookWriter, melt: string): Promise<void> {
  const row = await books.get(melts, melt);
  if (!row) return;
  const all = await books.select(drums, { by: 'byMelt', prefix: [melt] });
  const left = all.filter((drum) => drum.state !== 'returned');
  const pieces = left.reduce((sum, drum) => sum + drum.pieces, 0);
  await books.put(melts, { ...row, pieces, state: left.length === 0 ? 'returned' : row.state });
}

export async function applyOrder(
  books: BookWriter,
  entry: RecordedEntry<SamplesOrderedBody>,
): Promise<void> {
  const { melts: ordered, ...shared } = entry.body;
  for (const sampling of ordered) {
    await books.put(samplingOrders, {
      ...sampling,
      ...shared,
      entry: entry.number,
      orderedAt: entry.instant,
      drawnEntry: null,
    });
    await changeMelt(books, sampling.melt, 'samples ordered');
    for (const blank of sampling.blanks) {
      await books.put(blanks, { ...blank, melt: sampling.melt, isDrawn: false });
    }
  }
  await changeConsignment(books, shared.consignment, { state: 'samples ordered' });
}

async function changeMelt(
  books: BookWriter,
  melt: string,
  state: 'samples ordered' | 'sample drawn',
): Promise<void> {
  const row = await books.get(melts, melt);
  if (row) await books.put(melts, { ...row, state });
}

export async function applyDraw(
  books: BookWriter,
  entry: RecordedEntry<SampleDrawnBody>,
): Promise<void> {
  const { melt, consignment } = entry.body;
  const order = await books.get(samplingOrders, melt);
  if (order) await books.put(samplingOrders, { ...order, drawnEntry: entry.number });
  for (const blank of await books.select(blanks, { by: 'byMelt', prefix: [melt] })) {
    await books.put(blanks, { ...blank, isDrawn: true });
  }
  await changeMelt(books, melt, 'sample drawn');
  const all = await books.select(melts, { by: 'byConsignment', prefix: [consignment] });
  if (all.every((row) => row.state === 'sample drawn' || row.state === 'returned')) {
    await changeConsignment(books, consignment, { state: 'samples drawn' });
  }
}

export async function applyPackingListColumns(
  books: BookWriter,
  entry: RecordedEntry<PackingListColumnsKeptBody>,
): Promise<void> {
  await books.put(packingListColumns, { ...entry.body, entry: entry.number });
}
