import type { BookReader } from '../../journal/books.ts';
import {
  type DeliveryRow,
  deliveries,
  type HeldRunRow,
  type HoldRow,
  heldRuns,
  holds,
  type RunRow,
  runs,
  type StrikeRow,
  strikes,
} from './books.ts';
import type { ExaminedRun } from './hold-scope.ts';

/** The runs of a melt, oldest first. */
export async function runsOfMelt(books: BookReader, melt: string): Promise<readonly RunRow[]> {
  return books.select(runs, { by: 'byMelt', prefix: [melt] });
}

/** A run of that name. */
export async function runOf(books: BookReader, run: string): Promise<RunRow | undefined> {
  return books.get(runs, run);
}

/** The strikes of a run that were examined, in their order. */
export async function strikesOfRun(books: BookReader, run: string): Promise<readonly StrikeRow[]> {
  return books.select(strikes, { prefix: [run] });
}

/** What of a melt went to put-up, oldest first, with the dies that struck it. */
export async function deliveriesOfMelt(
  books: BookReader,
  melt: string,
): Promise<readonly DeliveryRow[]> {
  return books.select(deliveries, { by: 'byMelt', prefix: [melt] });
}

/** The delivery that an entry recorded. */
export async function deliveryOf(
  books: BookReader,
  entry: number,
): Promise<DeliveryRow | undefined> {
  return books.get(deliveries, entry);
}

/** The runs that are not closed, oldest first. */
export async function openRuns(books: BookReader): Promise<readonly RunRow[]> {
  const states = ['waiting for first strike', 'running', 'stopped'] as const;
  const found: RunRow[] = [];
  for (const state of states) {
    found.push(...(await books.select(runs, { by: 'byState', prefix: [state] })));
  }
  return found.sort((one, other) => one.openedEntry - other.openedEntry);
}

/** The holds that have no ruling, oldest first. */
export async function openHolds(books: BookReader): Promise<readonly HoldRow[]> {
  return books.select(holds, { by: 'byState', prefix: ['open'] });
}

/** The holds that cover a run, whatever became of them. */
export async function holdsOfRun(books: BookReader, run: string): Promise<readonly HeldRunRow[]> {
  return books.select(heldRuns, { prefix: [run] });
}

/** The open holds of the metal of a melt: they hold every piece of it, struck or not. */
export async function metalHoldsOfMelt(
  books: BookReader,
  melt: string,
): Promise<readonly HeldRunRow[]> {
  const open = await books.select(heldRuns, { by: 'byMelt', prefix: [melt, 'open'] });
  return open.filter((row) => row.family === 'metal');
}

/** A run as the scope of a hold needs it. */
export async function examinedRun(books: BookReader, run: RunRow): Promise<ExaminedRun> {
  const examined = await strikesOfRun(books, run.run);
  return {
    run: run.run,
    melt: run.melt,
    strokes: run.counterAfter === null ? null : run.counterAfter - run.counterBefore,
    strikes: examined.map(({ strikeNumber, verdict, shift }) => ({ strikeNumber, verdict, shift })),
  };
}

/** The runs of a press that had not ended before a shift, newest first. */
export async function runsOfPressInShift(
  books: BookReader,
  press: string,
  shift: string,
): Promise<readonly RunRow[]> {
  const found: RunRow[] = [];
  // A press has one run at a time: behind the first one that ended in an earlier shift all have.
  const newest = await books.select(runs, {
    by: 'byPress',
    prefix: [press],
    descending: true,
    limit: 50,
  });
  for (const run of newest) {
    if (run.closedShift !== null && run.closedShift !== shift) break;
    found.push(run);
  }
  return found;
}
