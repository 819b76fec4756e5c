import type { BookReader } from '../../journal/books.ts';
import {
  type BlankRow,
  blanks,
  type DeterminationRow,
  determinations,
  meltReturns,
  type ResultRow,
  type ReturnRow,
  type RulingRow,
  results,
  rulingsOfMelts,
  type TrialRow,
  trials,
} from './books.ts';
import type { Stage } from './stage.ts';

/** The measured blanks of a melt. */
export function blanksMeasuredOf(books: BookReader, melt: string): Promise<readonly BlankRow[]> {
  return books.select(blanks, { prefix: [melt] });
}

/** Every determination of a melt in the order in which they were obtained. */
export function determinationsOf(
  books: BookReader,
  melt: string,
): Promise<readonly DeterminationRow[]> {
  return books.select(determinations, { by: 'byMelt', prefix: [melt] });
}

/** The result of a melt that stands: the newest that was neither sent back nor superseded. */
export async function standingResult(
  books: BookReader,
  melt: string,
): Promise<ResultRow | undefined> {
  const trial = await books.get(trials, melt);
  return trial?.result ? books.get(results, melt, trial.result) : undefined;
}

/** Every result of a melt, oldest first. */
export function resultsOf(books: BookReader, melt: string): Promise<readonly ResultRow[]> {
  return books.select(results, { prefix: [melt] });
}

/** The newest ruling on a melt. */
export async function newestRuling(
  books: BookReader,
  melt: string,
): Promise<RulingRow | undefined> {
  const [newest] = await books.select(rulingsOfMelts, {
    prefix: [melt],
    descending: true,
    limit: 1,
  });
  return newest;
}

/** Every ruling on a melt, oldest first. */
export function rulingsOf(books: BookReader, melt: string): Promise<readonly RulingRow[]> {
  return books.select(rulingsOfMelts, { prefix: [melt] });
}

/** What went back to the supplier of a melt. */
export function meltReturnsOf(books: BookReader, melt: string): Promise<readonly ReturnRow[]> {
  return books.select(meltReturns, { prefix: [melt] });
}

/** Trials at a stage, those that have waited longest first. */
export function trialsAt(
  books: BookReader,
  stage: Stage,
  more: { readonly limit?: number; readonly descending?: boolean } = {},
): Promise<readonly TrialRow[]> {
  return books.select(trials, { by: 'byStage', prefix: [stage], ...more });
}
