import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import { invariant } from '../../journal/fault.ts';
import type { BoxesDispatched, CertificateIssued, CertificateWithdrawn } from './bodies.ts';
import {
  type CertifiedBoxRow,
  certificateLines,
  certificates,
  certifiedBoxes,
  dispatches,
} from './books.ts';

async function changeBox(
  books: BookWriter,
  box: string,
  change: Partial<CertifiedBoxRow>,
): Promise<void> {
  const before = (await books.get(certifiedBoxes, box)) ?? {
    box,
    certificate: null,
    dispatch: null,
  };
  await books.put(certifiedBoxes, { ...before, ...change });
}

/** Keeps a certificate; from now on it holds for its boxes. */
export async function applyIssued(
  books: BookWriter,
  entry: RecordedEntry<CertificateIssued>,
): Promise<void> {
  const { certificate, boxes, content } = entry.body;
  const { number, hash, instant, author } = entry;
  await books.put(certificates, {
    certificate,
    entry: number,
    entryHash: hash,
    instant,
    author,
    state: 'valid',
    withdrawnEntry: null,
    withdrawnReason: null,
    content,
  });
  await books.put(certificateLines, {
    certificate,
    entry: number,
    instant,
    author,
    state: 'valid',
    pieceStandard: content.pieceStandard.pieceStandard,
    metal: content.pieceStandard.metal,
    boxes,
    pieces: content.totals.pieces,
    grossMicrograms: content.totals.grossMicrograms,
    fineMicrograms: content.totals.fineMicrograms,
  });
  for (const box of boxes) await changeBox(books, box, { certificate });
}

/** Ends a certificate; its boxes have none until another is issued. */
export async function applyWithdrawn(
  books: BookWriter,
  entry: RecordedEntry<CertificateWithdrawn>,
): Promise<void> {
  const { certificate, boxes, reason } = entry.body;
  const row = await books.get(certificates, certificate);
  const line = await books.get(certificateLines, certificate);
  invariant(row && line, `certificate ${certificate} was withdrawn and never issued`);
  const { number: withdrawnEntry } = entry;
  await books.put(certificates, {
    ...row,
    state: 'withdrawn',
    withdrawnEntry,
    withdrawnReason: reason,
  });
  await books.put(certificateLines, { ...line, state: 'withdrawn' });
  for (const box of boxes) await changeBox(books, box, { certificate: null });
}

/** Keeps a dispatch; its boxes are gone. */
export async function applyDispatched(
  books: BookWriter,
  entry: RecordedEntry<BoxesDispatched>,
): Promise<void> {
  const { dispatch, purchaser, document, boxes } = entry.body;
  const parts = boxes.flatMap((box) => box.parts);
  await books.put(dispatches, {
    dispatch,
    entry: entry.number,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness ?? '',
    purchaser,
    document,
    boxes: boxes.map((box) => box.box),
    pieces: parts.reduce((total, part) => total + part.pieces, 0),
  });
  for (const { box } of boxes) await changeBox(books, box, { dispatch });
}

/** What this station knows of a box; nothing of one that has never been certified. */
export async function certifiedBoxOf(
  books: BookReader,
  box: string,
): Promise<CertifiedBoxRow | undefined> {
  return books.get(certifiedBoxes, box);
}
