import type { BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import { defineKind } from '../../journal/station.ts';
import { blanks, pickSubstitutions, pickVerifications } from './books.ts';
import {
  type PickSubstitutedBody,
  type PicksVerifiedBody,
  pickSubstituted,
  picksVerified,
} from './pick-bodies.ts';

const station = 'receiving';

async function applySubstitution(
  books: BookWriter,
  entry: RecordedEntry<PickSubstitutedBody>,
): Promise<void> {
  const { body, number } = entry;
  await books.put(pickSubstitutions, { ...body, entry: number });
  const blank = await books.get(blanks, body.blank);
  if (blank) await books.put(blanks, { ...blank, ...body.substitute });
}

async function applyVerification(
  books: BookWriter,
  entry: RecordedEntry<PicksVerifiedBody>,
): Promise<void> {
  await books.put(pickVerifications, { ...entry.body, entry: entry.number });
}

export const PickSubstituted = defineKind<PickSubstitutedBody>({
  kind: 'PickSubstituted',
  version: 1,
  station,
  meaning:
    'A blank that was drawn cannot be taken, so that another is, for the reason given. Its place is drawn from the same seed: nobody chooses it.',
  body: pickSubstituted,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'consignment', id: body.consignment },
    { thing: 'melt', id: body.melt },
    { thing: 'drum', id: body.drawn.drum },
    ...(body.substitute.drum === body.drawn.drum
      ? []
      : [{ thing: 'drum', id: body.substitute.drum }]),
  ],
  apply: applySubstitution,
});

export const PicksVerified = defineKind<PicksVerifiedBody>({
  kind: 'PicksVerified',
  version: 1,
  station,
  meaning:
    'The inspector scanned the picks of a sample at the drums where they were taken; it names those that were not scanned, and why. It is no judgement of the blanks.',
  body: picksVerified,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'consignment', id: body.consignment },
    { thing: 'melt', id: body.melt },
  ],
  apply: applyVerification,
});
