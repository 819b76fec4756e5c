import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import type { JsonObject } from '../../../ports/json.ts';
import { noteUses } from '../controls/note-uses.ts';
import { type ExaminedQuality, examinations, type Finding } from './books.ts';

/** What every examination of a blank records. */
type ExaminationBody = JsonObject & {
  readonly melt: string;
  readonly blank: string;
  readonly instrument: string;
  readonly finding: Finding;
};

/** Notes an examination, so that it stands with its melt. */
export async function noteExamination(
  books: BookWriter,
  entry: RecordedEntry<ExaminationBody>,
  of: { readonly quality: ExaminedQuality; readonly words: string },
): Promise<void> {
  const { number, instant, author, body } = entry;
  const { melt, blank, instrument, finding } = body;
  await books.put(examinations, {
    melt,
    blank,
    instrument,
    finding,
    ...of,
    entry: number,
    instant,
    author,
    body,
    setAside: null,
  });
  await noteUses(books, entry, {
    what: of.quality,
    melt,
    assayRun: null,
    of: { thing: 'blank', id: blank },
    instruments: [instrument],
  });
}
