import type { BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import {
  noteBlanks,
  noteFurtherLapsed,
  noteMeltReturned,
  noteResult,
  noteRuling,
} from '../receiving/index.ts';
import type {
  BlanksCut,
  BlanksMeasured,
  BlanksReturned,
  CupellationRecorded,
  DeterminationDiscarded,
  DifferenceRecorded,
  MeltReturned,
  MeltRuled,
  ResultChecked,
  ResultSentBack,
  ResultSigned,
} from './bodies.ts';
import {
  assayRuns,
  type BlankRow,
  blanks,
  determinations,
  meltReturns,
  newestRulings,
  type Recorded,
  type ResultRow,
  results,
  rulingsOfMelts,
  type TrialRow,
  trials,
} from './books.ts';
import { chartDiscard, chartRun } from './chart-read-model.ts';
import { noteUses } from './controls/note-uses.ts';
import type { ImpurityState } from './impurities/check.ts';
import { countBlanks, physicalState } from './physical.ts';
import { blanksMeasuredOf, determinationsOf } from './read-model-queries.ts';
import { stageOf } from './stage.ts';
import type { TitrationRecorded } from './titration/bodies.ts';

const recordedBy = (entry: RecordedEntry): Recorded => ({
  entry: entry.number,
  instant: entry.instant,
  author: entry.author,
});

/** A trial of which nothing but its sample is known. */
function newTrial(options: {
  melt: string;
  pieceStandard: string;
  plan: { blanksForPhysical: number; acceptanceNumber: number; rejectionNumber: number };
}): TrialRow {
  return {
    melt: options.melt,
    pieceStandard: options.pieceStandard,
    stage: 'to be measured',
    since: '',
    blanksForPhysical: options.plan.blanksForPhysical,
    acceptanceNumber: options.plan.acceptanceNumber,
    rejectionNumber: options.plan.rejectionNumber,
    blanksMeasured: 0,
    blanksNonconforming: 0,
    blanksOffMass: 0,
    blanksBelowLeastMass: 0,
    physical: 'open',
    blanksCut: 0,
    blanksReturned: 0,
    determinationsValid: 0,
    result: null,
    resultState: 'none',
    verdict: null,
    ruling: null,
    returned: null,
  };
}

/** Changes a trial; its stage follows, with the instant at which it changed. */
async function changeTrial(
  books: BookWriter,
  entry: RecordedEntry,
  change: { readonly before: TrialRow; readonly fields: Partial<TrialRow> },
): Promise<void> {
  const changed = { ...change.before, ...change.fields };
  const stage = stageOf(changed);
  const stays = stage === change.before.stage && change.before.since !== '';
  await books.put(trials, { ...changed, stage, since: stays ? changed.since : entry.instant });
}

/** Changes the trial of a melt, by default of the one that the entry speaks of. */
export async function changeTrialOf(
  books: BookWriter,
  entry: RecordedEntry,
  fields: Partial<TrialRow>,
  melt = String(entry.body.melt),
): Promise<void> {
  const before = await books.get(trials, melt);
  if (before) await changeTrial(books, entry, { before, fields });
}

export async function applyMeasurement(
  books: BookWriter,
  entry: RecordedEntry<BlanksMeasured>,
): Promise<void> {
  const { melt, pieceStandard, balance, micrometer } = entry.body;
  await noteUses(books, entry, {
    what: 'measurement of blanks',
    melt,
    assayRun: null,
    of: { thing: 'melt', id: melt },
    instruments: [balance, micrometer],
  });
  for (const one of entry.body.measurements) {
    const before = await books.get(blanks, melt, one.blank);
    const { balance: _balance, micrometer: _micrometer, ...replaced } = before?.measurement ?? {};
    await books.put(blanks, {
      melt,
      blank: one.blank,
      measurement: { ...one, ...recordedBy(entry), balance, micrometer },
      corrected: before
        ? [
            ...before.corrected,
            { ...(replaced as BlankRow['measurement']), reason: entry.reason ?? '' },
          ]
        : [],
      cut: before?.cut ?? null,
      returned: before?.returned ?? null,
    });
  }
  const measured = entry.body.measurements.map((one) => one.blank);
  await noteBlanks(books, entry, { blanks: measured, use: 'measured' });
  const before =
    (await books.get(trials, melt)) ?? newTrial({ melt, pieceStandard, plan: entry.body });
  const counts = countBlanks((await blanksMeasuredOf(books, melt)).map((row) => row.measurement));
  const physical = physicalState(counts, before, entry.body.byVariables);
  const fields = { ...counts, physical };
  await changeTrial(books, entry, { before, fields });
}

async function markBlanks(
  books: BookWriter,
  entry: RecordedEntry<BlanksCut> | RecordedEntry<BlanksReturned>,
  mark: 'cut' | 'returned',
): Promise<void> {
  for (const blank of entry.body.blanks) {
    const row = await books.get(blanks, entry.body.melt, blank);
    if (row) await books.put(blanks, { ...row, [mark]: recordedBy(entry) });
  }
  await noteBlanks(books, entry, { blanks: entry.body.blanks, use: mark });
}

export async function applyCutting(
  books: BookWriter,
  entry: RecordedEntry<BlanksCut>,
): Promise<void> {
  await markBlanks(books, entry, 'cut');
  const rows = await blanksMeasuredOf(books, entry.body.melt);
  await changeTrialOf(books, entry, { blanksCut: rows.filter((row) => row.cut).length });
}

export async function applyBlankReturn(
  books: BookWriter,
  entry: RecordedEntry<BlanksReturned>,
): Promise<void> {
  await markBlanks(books, entry, 'returned');
  const rows = await blanksMeasuredOf(books, entry.body.melt);
  await changeTrialOf(books, entry, { blanksReturned: rows.filter((row) => row.returned).length });
}

async function applyRun(
  books: BookWriter,
  entry:
    | RecordedEntry<CupellationRecorded>
    | RecordedEntry<DifferenceRecorded>
    | RecordedEntry<TitrationRecorded>,
  method: string,
): Promise<void> {
  const { body } = entry;
  await books.put(assayRuns, {
    assayRun: body.assayRun,
    melt: body.melt,
    method,
    instrument: body.instrument,
    state: body.state,
    voidReason: body.voidReason,
    worksheet: body,
    ...recordedBy(entry),
  });
  for (const [index, one] of body.determinations.entries()) {
    await books.put(determinations, {
      ...one,
      assayRun: body.assayRun,
      melt: body.melt,
      entry: entry.number,
      place: index + 1,
      state: body.state,
      discarded: null,
    });
  }
  const { assayRun, melt, instrument, reagentLots } = body;
  const instruments = 'balance' in body ? [instrument, body.balance] : [instrument];
  const titre = 'titre' in body ? body.titre?.assayRun : undefined;
  const of = { thing: 'assay-run', id: assayRun };
  const made = { assayRun, melt, of, instruments, reagentLots, titre };
  await noteUses(books, entry, { what: 'run', ...made });
  await chartRun(books, entry);
  await recountDeterminations(books, entry);
}

export const applyCupellation = (
  books: BookWriter,
  entry: RecordedEntry<CupellationRecorded>,
): Promise<void> => applyRun(books, entry, 'cupellation');

export const applyDifference = (
  books: BookWriter,
  entry: RecordedEntry<DifferenceRecorded>,
): Promise<void> => applyRun(books, entry, 'fineness-by-difference');

export const applyTitration = (
  books: BookWriter,
  entry: RecordedEntry<TitrationRecorded>,
): Promise<void> => applyRun(books, entry, 'titration');

export async function applyDiscard(
  books: BookWriter,
  entry: RecordedEntry<DeterminationDiscarded>,
): Promise<void> {
  const { assayRun, label, reason } = entry.body;
  const row = await books.get(determinations, assayRun, label);
  if (!row) return;
  const discarded = { ...recordedBy(entry), reason };
  await books.put(determinations, { ...row, state: 'discarded', discarded });
  await chartDiscard(books, entry);
  await recountDeterminations(books, entry);
}

/** Counts the determinations of a melt that are valid. */
export async function recountDeterminations(
  books: BookWriter,
  entry: RecordedEntry,
  melt = String(entry.body.melt),
): Promise<void> {
  const rows = await determinationsOf(books, melt);
  const determinationsValid = rows.filter((row) => row.state === 'valid').length;
  await changeTrialOf(books, entry, { determinationsValid }, melt);
}

export async function applyResult(
  books: BookWriter,
  entry: RecordedEntry<ResultSigned>,
): Promise<void> {
  const { melt, supersedes, impurities } = entry.body;
  const earlier = supersedes === null ? undefined : await books.get(results, melt, supersedes);
  if (earlier && !earlier.sentBack) {
    await books.put(results, { ...earlier, state: 'superseded' });
  }
  await books.put(results, {
    melt,
    result: entry.number,
    instant: entry.instant,
    signer: entry.author,
    state: 'signed',
    checked: null,
    sentBack: null,
    body: entry.body,
  });
  await changeTrialOf(books, entry, {
    result: entry.number,
    resultState: 'signed',
    verdict: entry.body.verdict,
    ...(impurities ? { impurities: impurities.output['state'] as ImpurityState } : {}),
    ruling: null,
  });
  await noteResult(books, entry, { melt, isSigned: true, own: entry.body });
}

async function changeResult(
  books: BookWriter,
  of: { readonly melt: string; readonly result: number },
  fields: Partial<ResultRow>,
): Promise<void> {
  const row = await books.get(results, of.melt, of.result);
  if (row) await books.put(results, { ...row, ...fields });
}

export async function applyCheck(
  books: BookWriter,
  entry: RecordedEntry<ResultChecked>,
): Promise<void> {
  await changeResult(books, entry.body, { state: 'checked', checked: recordedBy(entry) });
  await changeTrialOf(books, entry, { resultState: 'checked' });
}

export async function applySendingBack(
  books: BookWriter,
  entry: RecordedEntry<ResultSentBack>,
): Promise<void> {
  const sentBack = { ...recordedBy(entry), reason: entry.body.reason };
  await changeResult(books, entry.body, { state: 'sent back', sentBack });
  await changeTrialOf(books, entry, { result: null, resultState: 'none', verdict: null });
  await noteResult(books, entry, { melt: entry.body.melt, isSigned: false });
}

export async function applyRuling(
  books: BookWriter,
  entry: RecordedEntry<MeltRuled>,
): Promise<void> {
  const { melt, pieceStandard, physical, ruling } = entry.body;
  await books.put(rulingsOfMelts, { ...entry.body, ...recordedBy(entry) });
  await books.put(newestRulings, { melt, ruling, entry: entry.number });
  const before =
    (await books.get(trials, melt)) ?? newTrial({ melt, pieceStandard, plan: physical });
  await changeTrial(books, entry, { before, fields: { ruling } });
  await noteRuling(books, entry, { melt, isRefused: ruling === 'refuse' });
  if (ruling !== 'hold') await noteFurtherLapsed(books, melt);
}

export async function applyMeltReturn(
  books: BookWriter,
  entry: RecordedEntry<MeltReturned>,
): Promise<void> {
  await books.put(meltReturns, {
    ...entry.body,
    ...recordedBy(entry),
    witness: entry.witness ?? '',
  });
  await changeTrialOf(books, entry, { returned: entry.number });
  await noteMeltReturned(books, entry, entry.body);
}
