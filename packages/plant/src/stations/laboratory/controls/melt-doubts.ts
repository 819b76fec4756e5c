import type { BookReader } from '../../../journal/books.ts';
import { assayRuns } from '../books.ts';
import { heldFindings } from '../examination/examination-gate.ts';
import { blanksMeasuredOf, standingResult } from '../read-model-queries.ts';
import { type Hold, holdsOn, madeOfRun } from './holds.ts';
import { heldMeasurements } from './measurement-gate.ts';

/** Something that the release of a melt rests on and that is in doubt. */
export interface MeltDoubt {
  /** `Run R-7`, `The measurement of 13 blanks`. */
  readonly what: string;
  readonly entry: number;
  readonly hold: Pick<Hold, 'hold' | 'words'>;
}

/** What is in doubt of everything that the result and the release of a melt rest on. */
export async function doubtsOfMelt(books: BookReader, melt: string): Promise<readonly MeltDoubt[]> {
  const doubts: MeltDoubt[] = [];
  const result = await standingResult(books, melt);
  const names = (result?.body.determinations ?? []).map((one) => one.assayRun);
  for (const name of new Set(names)) {
    const run = await books.get(assayRuns, name);
    for (const hold of run ? await holdsOn(books, madeOfRun(run)) : []) {
      doubts.push({ what: `Run ${name}`, entry: run?.entry ?? 0, hold });
    }
  }
  const measured = await blanksMeasuredOf(books, melt);
  for (const { entry, blanks, hold } of await heldMeasurements(books, measured)) {
    doubts.push({ what: `The measurement of ${blanks.length} blanks`, entry, hold });
  }
  for (const { what, blank, entry, hold } of await heldFindings(books, melt)) {
    doubts.push({ what: `The ${what} of blank ${blank}`, entry, hold });
  }
  return doubts;
}
