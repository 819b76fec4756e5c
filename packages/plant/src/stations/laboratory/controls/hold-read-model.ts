import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { withdrawTitrantFactor } from '../../registers/index.ts';
import { assayRuns, determinations, results, trials } from '../books.ts';
import { chartPoints } from '../chart-books.ts';
import { examinations } from '../examination/books.ts';
import { changeTrialOf, recountDeterminations } from '../read-model.ts';
import { determinationsOf } from '../read-model-queries.ts';
import { screenings } from '../screening/books.ts';
import { answeredHolds, holdAnswers, titres } from './books.ts';
import { usesOfHold } from './held-uses.ts';
import { type AnsweredFor, type HoldAnswered, whatOf } from './hold-bodies.ts';
import { holdNamed } from './holds.ts';

type AnswerEntry = RecordedEntry<HoldAnswered>;

/** Points of a run or determination set aside set no limits any more. */
async function voidPoints(books: BookWriter, assayRun: string, why: string): Promise<void> {
  for (const point of await books.select(chartPoints, { by: 'byRun', prefix: [assayRun] })) {
    if (point.state === 'counts') await books.put(chartPoints, { ...point, state: 'void', why });
  }
}

async function voidRun(
  books: BookWriter,
  entry: AnswerEntry,
  of: { readonly assayRun: string; readonly voidReason: string },
): Promise<void> {
  const { assayRun, voidReason } = of;
  const run = await books.get(assayRuns, assayRun);
  if (!run) return;
  await books.put(assayRuns, { ...run, state: 'void', voidReason });
  for (const row of await determinationsOf(books, run.melt)) {
    if (row.assayRun !== assayRun || row.state !== 'valid') continue;
    await books.put(determinations, { ...row, state: 'void' });
  }
  await voidPoints(books, assayRun, voidReason);
  const lot = run.worksheet.titrantFactor?.lot;
  if (lot !== undefined) await withdrawTitrantFactor(books, entry, { lot, determinedIn: assayRun });
}

async function setTitreAside(
  books: BookWriter,
  entry: AnswerEntry,
  of: { readonly assayRun: string; readonly why: string },
): Promise<void> {
  const { assayRun, why } = of;
  const row = await books.get(titres, assayRun);
  if (!row) return;
  await books.put(titres, { ...row, setAside: why });
  await voidPoints(books, assayRun, why);
  await withdrawTitrantFactor(books, entry, { lot: row.lot, determinedIn: assayRun });
}

async function setExaminationAside(
  books: BookWriter,
  { melt, entry }: AnsweredFor,
  why: string,
): Promise<void> {
  const row = await books.get(examinations, melt, entry);
  if (row) await books.put(examinations, { ...row, setAside: why });
}

async function setScreeningAside(books: BookWriter, { melt, entry }: AnsweredFor): Promise<void> {
  const row = await books.get(screenings, melt, entry);
  if (row) await books.put(screenings, { ...row, state: 'set aside' });
}

async function setAside(books: BookWriter, entry: AnswerEntry, one: AnsweredFor): Promise<void> {
  const why = `Set aside: ${entry.body.words} ${entry.body.reason}`;
  const assayRun = one.assayRun ?? '';
  switch (whatOf(one)) {
    case 'run':
      return voidRun(books, entry, { assayRun, voidReason: why });
    case 'titrant factor':
      return setTitreAside(books, entry, { assayRun, why });
    case 'hardness':
    case 'grain size':
    case 'edge':
      return setExaminationAside(books, one, why);
    case 'screening':
      return setScreeningAside(books, one);
    // A weighing stays as it was read; who builds on it asks for the answer.
    case 'weighing':
    case 'measurement of blanks':
  }
}

/** A result that rests on a run set aside no longer stands. */
async function withdrawResult(books: BookWriter, entry: AnswerEntry, melt: string): Promise<void> {
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

/** A hold of which everything has its answer is looked into no more. */
async function closeWhenAnswered(books: BookWriter, entry: AnswerEntry): Promise<void> {
  const hold = await holdNamed(books, entry.body.hold);
  if (!hold) return;
  const answers = await books.select(holdAnswers, { prefix: [hold.hold] });
  const answered = new Set(answers.map((row) => row.entry));
  const reached = await usesOfHold(books, hold);
  if (reached.some((use) => !answered.has(use.entry))) return;
  const { number, instant } = entry;
  await books.put(answeredHolds, { hold: hold.hold, entry: number, instant });
}

export async function applyHoldAnswer(books: BookWriter, entry: AnswerEntry): Promise<void> {
  const { hold, finding, reason, answeredFor } = entry.body;
  const { number, instant, author } = entry;
  for (const one of answeredFor) {
    const answered = { answered: number, instant, author };
    await books.put(holdAnswers, { hold, entry: one.entry, finding, reason, ...answered });
    if (finding === 'set aside') await setAside(books, entry, one);
  }
  await closeWhenAnswered(books, entry);
  if (finding === 'stands') return;
  const melts = new Set(answeredFor.map((one) => one.melt).filter((melt) => melt !== ''));
  for (const melt of melts) {
    await withdrawResult(books, entry, melt);
    await recountDeterminations(books, entry, melt);
  }
}
