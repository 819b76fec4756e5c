import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { readingMicrograms } from '../../../journal/reading.ts';
import { type Draft, defineKind, draft } from '../../../journal/station.ts';
import {
  type ReferenceMaterialReceived as ReceivedBody,
  type ReferenceMaterialRetired as RetiredBody,
  referenceMaterialReceived,
  referenceMaterialRetired,
  referenceMaterialUsed,
  type ReferenceMaterialUsed as UsedBody,
} from './bodies.ts';
import { referenceMaterials, referenceMaterialUses } from './books.ts';

const station = 'registers';
const thingOf = (id: string) => ({ thing: 'reference-material', id });

async function applyReceipt(books: BookWriter, entry: RecordedEntry<ReceivedBody>): Promise<void> {
  const mass = readingMicrograms(entry.body.received);
  await books.put(referenceMaterials, {
    ...entry.body,
    massReceivedMicrograms: mass,
    massRemainingMicrograms: mass,
    uses: 0,
    retired: null,
    entry: entry.number,
    since: entry.instant,
  });
}

async function applyUse(books: BookWriter, entry: RecordedEntry<UsedBody>): Promise<void> {
  const { referenceMaterial, massMicrograms, usedFor } = entry.body;
  const { number, instant, author } = entry;
  await books.put(referenceMaterialUses, {
    referenceMaterial,
    entry: number,
    instant,
    author,
    massMicrograms,
    usedFor,
  });
  const row = await books.get(referenceMaterials, referenceMaterial);
  if (!row) return;
  const massRemainingMicrograms = Math.max(0, row.massRemainingMicrograms - massMicrograms);
  await books.put(referenceMaterials, { ...row, massRemainingMicrograms, uses: row.uses + 1 });
}

async function applyRetirement(
  books: BookWriter,
  entry: RecordedEntry<RetiredBody>,
): Promise<void> {
  const row = await books.get(referenceMaterials, entry.body.referenceMaterial);
  if (!row) return;
  const { number, instant, author } = entry;
  const retired = { entry: number, instant, author, reason: entry.body.reason };
  await books.put(referenceMaterials, { ...row, retired });
}

export const ReferenceMaterialReceived = defineKind<ReceivedBody>({
  kind: 'ReferenceMaterialReceived',
  version: 1,
  station,
  meaning:
    'A reference material came to the laboratory with its certificate and mass. It is no metal of the account, and what is certified of it is never changed.',
  body: referenceMaterialReceived,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.referenceMaterial)],
  apply: applyReceipt,
});

export const ReferenceMaterialUsed = defineKind<UsedBody>({
  kind: 'ReferenceMaterialUsed',
  version: 1,
  station,
  meaning: 'So much of a reference material was used in a run. It says nothing of what was found.',
  body: referenceMaterialUsed,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.referenceMaterial), { thing: 'assay-run', id: body.usedFor }],
  apply: applyUse,
});

export const ReferenceMaterialRetired = defineKind<RetiredBody>({
  kind: 'ReferenceMaterialRetired',
  version: 1,
  station,
  meaning:
    'The chief assayer takes a reference material out of use, with the reason. Runs that used it stay as they were.',
  body: referenceMaterialRetired,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.referenceMaterial)],
  apply: applyRetirement,
});

/** The entry by which a run takes some of a reference material. */
export function draftReferenceMaterialUsed(body: UsedBody): Draft {
  return draft(ReferenceMaterialUsed, body);
}

export const referenceMaterialKinds = [
  ReferenceMaterialReceived,
  ReferenceMaterialUsed,
  ReferenceMaterialRetired,
] as const;
