import type { Trial } from '../../../journal/trial.ts';
import { readTableFile } from '../../../tables/table-file.ts';
import { exchangePapers } from './papers.ts';
import { readWorksheet, type WorksheetRead } from './worksheet-readers.ts';

/** A table that the plant hands out. */
export async function paper(trial: Trial, name: string, id: string) {
  const found = exchangePapers.find((one) => one.paper === name);
  const made = await found?.render(
    { books: trial.books, instant: '', signer: trial.signer, proofOf: async () => undefined },
    id,
  );
  if (!made) throw new Error(`no ${name} of ${id}`);
  return { name: made.fileName, bytes: made.bytes, mediaType: made.mediaType };
}

/** What the plant reads of a workbook that came back. */
export async function readBack(bytes: Uint8Array, melt = 'M-1'): Promise<WorksheetRead> {
  const { read } = await readTableFile(bytes);
  if (read.outcome === 'problem') throw new Error(JSON.stringify(read.problem));
  return readWorksheet(read.sheets, melt);
}
