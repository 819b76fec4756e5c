import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { assayRuns, determinations, results, trials } from '../books.ts';
import { chartPoints } from '../chart-books.ts';
import { changeTrialOf, recountDeterminations } from '../read-model.ts';
import { determinationsOf } from '../read-model-queries.ts';
import { holdAnswers } from './books.ts';
import type { HoldAnswered } from './hold-bodies.ts';

async function voidRun(books: BookWriter, assayRun: string, voidReason: string): Promise<void> {
  const run = await books.get(assayRuns, assayRun);
  if (!run) return;
  await books.put(assayRuns, { ...run, state: 'void', voidReason });
  for (const row of await determinationsOf(books, run.melt)) {
    if (row.assayRun !== assayRun || row.state !== 'valid') continue;
    await books.put(determinations, { ...row, state: 'void' });
  }
  for (const point of await books.select(chartPoints, { by: 'byRun', prefix: [assayRun] })) {
    if (point.state !== 'counts') continue;
    await books.put(chartPoints, { ...point, state: 'void', why: voidReason });
  }
}

/** A result that rests on a run set aside no longer stands. */
async function withdrawResult(
  books: BookWriter,
  entry: RecordedEntry<HoldAnswered>,
  melt: string,
): Promise<void> {
  const trial = await books.get(trials, melt);
  const row = trial?.result ? await books.get(results, melt, trial.result) : undefined;
  if (!row) return;
  const aside = new Set(entry.body.answeredFor.map((one) => one.assayRun));
  if (!row.body.determinations.some((one) => aside.has(one.assayRun))) return;
  const { number, instant, author, body } = entry;
  const sentBack = { entry: number, instant, author, reason: `${body.words} ${body.reason}` };
  await books.put(results, { ...row, state: 'sent back', sentBack });
  const fields = { result: null, resultState: 'none' as const, verdict: null };
  await changeTrialOf(books, entry, fields, melt);
}

export async function applyHoldAnswer(
  books: BookWriter,
  entry: RecordedEntry<HoldAnswered>,
): Promise<void> {
  const { hold, finding, reason, words, answeredFor } = entry.body;
  const { number, instant, author } = entry;
  for (const one of answeredFor) {
    await books.put(holdAnswers, {
      hold,
      entry: one.entry,
      finding,
      reason,
      answered: number,
      instant,
      author,
    });
    if (finding === 'set aside' && one.assayRun !== null) {
      await voidRun(books, one.assayRun, `Set aside: ${words} ${reason}`);
    }
  }
  if (finding === 'stands') return;
  for (const melt of new Set(answeredFor.map((one) => one.melt))) {
    await withdrawResult(books, entry, melt);
    await recountDeterminations(books, entry, melt);
  }
}
