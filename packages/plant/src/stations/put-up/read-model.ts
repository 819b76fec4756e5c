import type { BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import { invariant } from '../../journal/fault.ts';
import type {
  BoxPacked,
  DeliveryAccepted,
  PiecesScrapped,
  PiecesSetAside,
  TubeOpened,
  TubeWeighed,
} from './bodies.ts';
import {
  acceptances,
  boxes,
  boxesByMelt,
  type MeltRow,
  meltsInPutUp,
  openings,
  tubes,
  weighings,
} from './books.ts';

/** Adds to what became of a melt's pieces in put-up. */
async function changeMelt(
  books: BookWriter,
  melt: string,
  change: Partial<Omit<MeltRow, 'melt'>>,
): Promise<void> {
  const none = { piecesInTubes: 0, piecesPacked: 0, piecesSetAside: 0, piecesScrapped: 0 };
  const before = (await books.get(meltsInPutUp, melt)) ?? { melt, ...none };
  await books.put(meltsInPutUp, {
    melt,
    piecesInTubes: before.piecesInTubes + (change.piecesInTubes ?? 0),
    piecesPacked: before.piecesPacked + (change.piecesPacked ?? 0),
    piecesSetAside: before.piecesSetAside + (change.piecesSetAside ?? 0),
    piecesScrapped: before.piecesScrapped + (change.piecesScrapped ?? 0),
  });
}

export async function applyDeliveryAccepted(
  books: BookWriter,
  { body, number, instant, author }: RecordedEntry<DeliveryAccepted>,
): Promise<void> {
  const { delivery, melt, pieces } = body;
  await books.put(acceptances, { delivery, entry: number, melt, pieces, instant, author });
}

export async function applyTubeWeighed(
  books: BookWriter,
  entry: RecordedEntry<TubeWeighed>,
): Promise<void> {
  const { body, number, instant, author } = entry;
  const instrument = entry.instrument ?? '';
  const before = await books.get(tubes, body.tube);
  const isSameFilling = before?.filling === body.filling;
  if (!isSameFilling) await changeMelt(books, body.melt, { piecesInTubes: body.pieces });
  const reading = {
    entry: number,
    instrument,
    isTareWeighed: body.tare !== null,
    grossMicrograms: body.grossMicrograms,
    netMicrograms: body.netMicrograms,
  };
  await books.put(tubes, {
    tube: body.tube,
    filling: body.filling,
    state: body.state,
    melt: body.melt,
    metal: body.metal,
    pieceStandard: body.pieceStandard,
    finenessDeclaredPartsPerMillion: body.finenessDeclaredPartsPerMillion,
    pieces: body.pieces,
    readings: [...(isSameFilling && before ? before.readings : []), reading],
    runs: body.runs,
    words: String(body.count.output['words'] ?? ''),
    box: null,
    since: instant,
    entry: number,
  });
  await books.put(weighings, {
    tube: body.tube,
    entry: number,
    filling: body.filling,
    melt: body.melt,
    pieces: body.pieces,
    instant,
    author,
    instrument,
    gross: body.gross,
    tare: body.tare,
    tareMicrograms: body.tareMicrograms,
    netMicrograms: body.netMicrograms,
    reference: body.reference,
    count: body.count,
    state: body.state,
  });
}

export async function applyTubeOpened(
  books: BookWriter,
  entry: RecordedEntry<TubeOpened>,
): Promise<void> {
  const { body, number, instant, author, witness } = entry;
  const before = await books.get(tubes, body.tube);
  invariant(before, `tube ${body.tube} was opened and never weighed`);
  await changeMelt(books, body.melt, { piecesInTubes: -body.piecesBooked });
  await books.put(tubes, {
    ...before,
    state: 'open',
    readings: [],
    words: `Opened: ${body.piecesFound} pieces found, ${body.piecesBooked} booked.`,
    since: instant,
    entry: number,
  });
  const { tube, filling, melt, piecesBooked, piecesFound, stateBefore } = body;
  const counted = { tube, filling, melt, piecesBooked, piecesFound, stateBefore };
  await books.put(openings, { ...counted, entry: number, instant, author, witness });
}

export async function applyBoxPacked(
  books: BookWriter,
  entry: RecordedEntry<BoxPacked>,
): Promise<void> {
  const { body, number, instant, author, witness } = entry;
  const instrument = entry.instrument ?? '';
  await books.put(boxes, { ...body, entry: number, instant, author, witness, instrument });
  for (const part of body.tubes) {
    const before = await books.get(tubes, part.tube);
    invariant(before?.state === 'proved', `tube ${part.tube} was packed without being proved`);
    await books.put(tubes, {
      ...before,
      state: 'packed',
      box: body.box,
      since: instant,
      entry: number,
    });
  }
  for (const { melt, pieces } of body.melts) {
    await books.put(boxesByMelt, { melt, box: body.box, pieces });
    await changeMelt(books, melt, { piecesInTubes: -pieces, piecesPacked: pieces });
  }
}

export async function applyPiecesSetAside(
  books: BookWriter,
  { body }: RecordedEntry<PiecesSetAside>,
): Promise<void> {
  await changeMelt(books, body.melt, { piecesSetAside: body.pieces });
}

export async function applyPiecesScrapped(
  books: BookWriter,
  { body }: RecordedEntry<PiecesScrapped>,
): Promise<void> {
  await changeMelt(books, body.melt, { piecesScrapped: body.pieces });
}
