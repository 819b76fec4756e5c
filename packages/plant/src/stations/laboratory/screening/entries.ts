import type { BookReader, BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import { noteUses } from '../controls/note-uses.ts';
import {
  type BlankScreenedBody,
  blankScreened,
  type ScreeningAnsweredBody,
  screeningAnswered,
} from './bodies.ts';
import { type ScreeningRow, screenings } from './books.ts';

const station = 'laboratory';

const recordedBy = ({ number, instant, author }: RecordedEntry) => ({
  entry: number,
  instant,
  author,
});

async function applyScreening(
  books: BookWriter,
  entry: RecordedEntry<BlankScreenedBody>,
): Promise<void> {
  const state = entry.body.flag === 'deviates' ? ('open' as const) : ('no doubt' as const);
  await books.put(screenings, { ...entry.body, ...recordedBy(entry), state, answered: null });
  const { melt, blank, instrument } = entry.body;
  await noteUses(books, entry, {
    what: 'screening',
    melt,
    assayRun: null,
    of: { thing: 'blank', id: blank },
    instruments: [instrument],
  });
}

async function applyAnswer(
  books: BookWriter,
  entry: RecordedEntry<ScreeningAnsweredBody>,
): Promise<void> {
  for (const number of entry.body.screenings) {
    const row = await books.get(screenings, entry.body.melt, number);
    if (!row) continue;
    const answered = { ...entry.body, ...recordedBy(entry) };
    await books.put(screenings, { ...row, state: 'answered', answered });
  }
}

/** The screenings of a melt that deviate and wait for the chief assayer. */
export async function openScreenings(
  books: BookReader,
  melt: string,
): Promise<readonly ScreeningRow[]> {
  const rows = await books.select(screenings, { prefix: [melt] });
  return rows.filter(({ state }) => state === 'open');
}

export const BlankScreened = defineKind<BlankScreenedBody>({
  kind: 'BlankScreened',
  version: 1,
  station,
  meaning:
    'A blank was screened by fluorescence or density. It raises a doubt or none; it is never a result of fineness and passes no melt.',
  body: blankScreened,
  postings: 'moves nothing',
  things: ({ melt, blank, instrument }) => [
    { thing: 'melt', id: melt },
    { thing: 'blank', id: blank },
    { thing: 'instrument', id: instrument },
  ],
  apply: applyScreening,
});

export const ScreeningAnswered = defineKind<ScreeningAnsweredBody>({
  kind: 'ScreeningAnswered',
  version: 1,
  station,
  meaning:
    'The chief assayer looked into screenings that deviate and said how the melt goes on. It is no ruling.',
  body: screeningAnswered,
  postings: 'moves nothing',
  things: ({ melt }) => [{ thing: 'melt', id: melt }],
  apply: applyAnswer,
});

export const screeningKinds = [BlankScreened, ScreeningAnswered] as const;
