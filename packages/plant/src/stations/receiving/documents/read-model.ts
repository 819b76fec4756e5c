import type { BookReader, BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { melts, supplierFinenesses } from '../books.ts';
import type { CertificateForgoneBody, MaterialCertificateAttachedBody } from './bodies.ts';
import {
  type AwaitedCertificate,
  awaitedCertificates,
  type CertifiedMeltRow,
  certifiedMelts,
  forgoneCertificates,
  type MaterialCertificate,
  materialCertificates,
  signedMelts,
} from './books.ts';

/** What the packing list said stands; a certificate states it only where the list did not. */
async function stateFineness(
  books: BookWriter,
  of: { readonly melt: string; readonly finenessPerMille: number | null },
  entries: { readonly entry: number; readonly corrects: number | null },
): Promise<void> {
  const before = await books.get(supplierFinenesses, of.melt);
  if (before && before.entry !== entries.corrects) return;
  if (of.finenessPerMille === null) return;
  await books.put(supplierFinenesses, {
    melt: of.melt,
    supplierFinenessPerMille: of.finenessPerMille,
    entry: entries.entry,
  });
}

export async function applyCertificate(
  books: BookWriter,
  entry: RecordedEntry<MaterialCertificateAttachedBody>,
): Promise<void> {
  const { melts: named, missing, ...body } = entry.body;
  const { number, instant, author, corrects } = entry;
  const corrected = corrects === null ? undefined : await books.get(materialCertificates, corrects);
  if (corrected) {
    await books.put(materialCertificates, { ...corrected, correctedBy: number });
    for (const melt of corrected.melts) await books.remove(certifiedMelts, melt, corrected.entry);
  }
  await books.put(materialCertificates, {
    ...body,
    melts: named.map(({ melt }) => melt),
    sha256: body.file.sha256,
    entry: number,
    instant,
    author,
    correctedBy: null,
  });
  for (const melt of named) {
    await books.put(certifiedMelts, { ...melt, entry: number });
    await stateFineness(books, melt, { entry: number, corrects });
  }
  await awaitOnly(books, entry, missing);
}

/** From now on the consignment waits for certificates of those melts, and of no others. */
async function awaitOnly(
  books: BookWriter,
  entry: RecordedEntry<MaterialCertificateAttachedBody>,
  missing: readonly string[],
): Promise<void> {
  const { consignment } = entry.body;
  const before = await books.select(awaitedCertificates, { prefix: [consignment] });
  for (const { melt } of before) {
    if (!missing.includes(melt)) await books.remove(awaitedCertificates, consignment, melt);
  }
  for (const melt of missing) {
    if (before.some((row) => row.melt === melt)) continue;
    if (await books.get(forgoneCertificates, consignment, melt)) continue;
    const row = { consignment, melt, entry: entry.number, since: entry.instant };
    await books.put(awaitedCertificates, row);
  }
}

/** The melts go without a certificate, and nobody waits for one any more. */
export async function applyForgone(
  books: BookWriter,
  entry: RecordedEntry<CertificateForgoneBody>,
): Promise<void> {
  const { consignment, melts, reason } = entry.body;
  const { number, instant, author } = entry;
  for (const melt of melts) {
    await books.remove(awaitedCertificates, consignment, melt);
    const row = { consignment, melt, reason, entry: number, instant, author };
    await books.put(forgoneCertificates, row);
  }
}

/** Melts that wait for a certificate, of one consignment or of all; none that has gone back. */
export async function awaitedOf(
  books: BookReader,
  consignment?: string,
): Promise<readonly AwaitedCertificate[]> {
  const selection = consignment === undefined ? {} : { prefix: [consignment] };
  const waiting: AwaitedCertificate[] = [];
  for (const row of await books.select(awaitedCertificates, selection)) {
    if ((await books.get(melts, row.melt))?.state !== 'returned') waiting.push(row);
  }
  return waiting;
}

/** Notes whether a signed result of the plant stands for a melt. */
export async function noteSigned(
  books: BookWriter,
  entry: Pick<RecordedEntry, 'number'>,
  of: { readonly melt: string; readonly isSigned: boolean },
): Promise<void> {
  await books.put(signedMelts, { ...of, entry: entry.number });
}

export async function isResultSigned(books: BookReader, melt: string): Promise<boolean> {
  return (await books.get(signedMelts, melt))?.isSigned ?? false;
}

/** The certificates of a consignment that stand, oldest first. */
export async function certificatesOf(
  books: BookReader,
  consignment: string,
): Promise<readonly MaterialCertificate[]> {
  const all = await books.select(materialCertificates, {
    by: 'byConsignment',
    prefix: [consignment],
  });
  return all.filter(({ correctedBy }) => correctedBy === null);
}

/** What certificates say of a melt, the newest first. */
export async function certifiedValuesOf(
  books: BookReader,
  melt: string,
): Promise<readonly CertifiedMeltRow[]> {
  return books.select(certifiedMelts, { prefix: [melt], descending: true });
}
