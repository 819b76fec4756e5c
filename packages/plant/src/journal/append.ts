import type { StoreWriter } from '../ports/store.ts';
import { coreRefusals } from './authority.ts';
import { bookWriter } from './books.ts';
import { applyCore } from './core-books.ts';
import { canonicalText, type Entry, entryHash, parseEntry, type RecordedEntry } from './entry.ts';
import { invariant } from './fault.ts';
import { addLeaf } from './merkle.ts';
import { placeName } from './place.ts';
import { assertPosting, type Posting } from './posting.ts';
import { type Refusal, refuse } from './refusal.ts';
import type { Circumstances, Draft, EntryKind } from './station.ts';

/** Where the journal ends: what the next entry follows. */
export interface Tail {
  readonly number: number;
  readonly hash: string;
}

/** A draft with all that makes it an entry. */
export interface Act {
  readonly draft: Draft;
  readonly request: { readonly author: string; readonly idempotencyKey: string };
  readonly requestHash: string;
  readonly circumstances: Circumstances;
  readonly before: Tail;
}

function makeEntry({ draft, request, requestHash, circumstances, before }: Act): Entry {
  const kind = draft.kind as EntryKind;
  const body = kind.body.safeParse(draft.body);
  invariant(body.success, `${kind.kind} has a malformed body: ${body.error?.message}`);
  const postings: readonly Posting[] =
    kind.postings === 'moves nothing' ? [] : kind.postings(body.data);
  for (const posting of postings) assertPosting(posting);
  return {
    number: before.number + 1,
    plant: circumstances.plant,
    kind: kind.kind,
    kindVersion: kind.version,
    instant: circumstances.instant,
    shift: circumstances.shift,
    author: request.author,
    witness: circumstances.witness?.person ?? null,
    station: kind.station,
    instrument: draft.instrument ?? null,
    body: body.data,
    postings,
    corrects: draft.corrects ?? null,
    reason: draft.reason ?? null,
    idempotencyKey: request.idempotencyKey,
    requestHash,
    previousHash: before.hash,
  };
}

/** Makes the entry of a draft, appends it to the journal and folds it into the books. */
export async function appendEntry(
  writer: StoreWriter,
  act: Act,
): Promise<{ entry: RecordedEntry; shortages: readonly Refusal[] }> {
  const made = makeEntry(act);
  const text = canonicalText(made);
  const line = { number: made.number, text, hash: entryHash(text) };
  await writer.append(line);
  // The books are derived from the line as it stands, so that a rebuild derives the same.
  const entry = parseEntry(line);
  return { entry, shortages: await applyEntry(writer, entry, act.draft.kind) };
}

/** Folds an entry into every book; answers refusals when a place would hold less than nothing. */
export async function applyEntry(
  writer: StoreWriter,
  entry: RecordedEntry,
  kind: EntryKind,
): Promise<readonly Refusal[]> {
  const books = bookWriter(writer);
  await addLeaf(books, entry.number, entry.hash);
  const shortages = await applyCore(books, entry, kind);
  await kind.apply(books, entry);
  return shortages.map(({ place, pieceStandard, melt, pieces }) =>
    refuse(coreRefusals, 'NotEnoughPieces', {
      toOthers: {
        message: `Fewer pieces of ${pieceStandard} than none${melt ? `, from melt ${melt},` : ''} would be left in ${placeName(place)}.`,
        figures: { place, pieceStandard, melt },
      },
      message: `${-pieces} more pieces of ${pieceStandard}${melt ? ` from melt ${melt}` : ''} would leave ${placeName(place)} than lie there.`,
      figures: { place, pieceStandard, melt, piecesLeft: pieces },
    }),
  );
}
