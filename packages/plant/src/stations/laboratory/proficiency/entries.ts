import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import {
  type ProficiencyRoundAnsweredBody,
  type ProficiencyRoundRecordedBody,
  proficiencyRoundAnswered,
  proficiencyRoundRecorded,
} from './bodies.ts';
import { proficiencyRounds } from './books.ts';

const station = 'laboratory';

const recordedBy = ({ number, instant, author }: RecordedEntry) => ({
  entry: number,
  instant,
  author,
});

async function applyRound(
  books: BookWriter,
  entry: RecordedEntry<ProficiencyRoundRecordedBody>,
): Promise<void> {
  await books.put(proficiencyRounds, { ...entry.body, ...recordedBy(entry), answered: null });
}

async function applyAnswer(
  books: BookWriter,
  entry: RecordedEntry<ProficiencyRoundAnsweredBody>,
): Promise<void> {
  const row = await books.get(proficiencyRounds, entry.body.round);
  if (!row) return;
  await books.put(proficiencyRounds, {
    ...row,
    answered: { ...entry.body, ...recordedBy(entry) },
  });
}

const roundThing = ({ round }: { readonly round: string }) => [
  { thing: 'proficiency-round', id: round },
];

export const ProficiencyRoundRecorded = defineKind<ProficiencyRoundRecordedBody>({
  kind: 'ProficiencyRoundRecorded',
  version: 1,
  station,
  meaning:
    'The laboratory took part in a comparison of laboratories and recorded how its result stands. It changes no result of a melt.',
  body: proficiencyRoundRecorded,
  postings: 'moves nothing',
  things: roundThing,
  apply: applyRound,
});

export const ProficiencyRoundAnswered = defineKind<ProficiencyRoundAnsweredBody>({
  kind: 'ProficiencyRoundAnswered',
  version: 1,
  station,
  meaning:
    'The chief assayer looked into the signal of a comparison of laboratories and said what was found.',
  body: proficiencyRoundAnswered,
  postings: 'moves nothing',
  things: roundThing,
  apply: applyAnswer,
});

export const proficiencyKinds = [ProficiencyRoundRecorded, ProficiencyRoundAnswered] as const;
