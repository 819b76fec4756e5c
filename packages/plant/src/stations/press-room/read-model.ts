import type { BookReader, BookWriter } from '../../journal/books.ts';
import type { RecordedEntry } from '../../journal/entry.ts';
import { invariant } from '../../journal/fault.ts';
import type {
  BlanksTaken,
  HoldOpened,
  HoldResolved,
  PiecesDelivered,
  RejectsSetAside,
  RunClosed,
  RunOpened,
  StrikeRecorded,
} from './bodies.ts';
import {
  deliveries,
  diesUsed,
  heldRuns,
  holds,
  meltsTaken,
  presses,
  type RunRow,
  type RunState,
  rejects,
  runs,
  strikes,
  type TransferRow,
} from './books.ts';

async function runRow(books: BookReader, run: string): Promise<RunRow> {
  const row = await books.get(runs, run);
  invariant(row, `run ${run} is in no book`);
  return row;
}

export async function applyBlanksTaken(
  books: BookWriter,
  entry: RecordedEntry<BlanksTaken>,
): Promise<void> {
  const { melt, metal, pieceStandard, pieces, grossMicrograms } = entry.body;
  const before = await books.get(meltsTaken, melt);
  await books.put(meltsTaken, {
    melt,
    metal,
    pieceStandard,
    piecesTaken: (before?.piecesTaken ?? 0) + pieces,
    grossMicrogramsTaken: (before?.grossMicrogramsTaken ?? 0) + grossMicrograms,
    lastTakenInstant: entry.instant,
  });
}

export async function applyRunOpened(
  books: BookWriter,
  entry: RecordedEntry<RunOpened>,
): Promise<void> {
  const { strokesSinceLastRun: _strokes, ...body } = entry.body;
  await books.put(runs, {
    ...body,
    state: 'waiting for first strike',
    counterAfter: null,
    openedEntry: entry.number,
    openedInstant: entry.instant,
    openedBy: entry.author,
    openedWitness: entry.witness,
    closedInstant: null,
    closedShift: null,
    lastStrike: 0,
    lastOccasion: null,
    firstApproved: false,
    lastApprovedStrike: 0,
    judgedUpTo: 0,
    condemned: [],
    piecesDelivered: 0,
    piecesRejected: 0,
  });
  await books.put(presses, {
    press: body.press,
    openRun: body.run,
    counter: body.counterBefore,
  });
  for (const die of [body.obverse, body.reverse, body.collar]) {
    const before = await books.get(diesUsed, die);
    await books.put(diesUsed, {
      die,
      openRun: body.run,
      runs: (before?.runs ?? 0) + 1,
      strokes: before?.strokes ?? 0,
    });
  }
}

function stateAfterStrike(run: RunRow, strike: StrikeRecorded): RunState {
  const firstApproved =
    run.firstApproved || (strike.occasion === 'first' && strike.verdict === 'approved');
  if (!firstApproved) return 'waiting for first strike';
  return strike.verdict === 'approved' ? 'running' : 'stopped';
}

export async function applyStrike(
  books: BookWriter,
  entry: RecordedEntry<StrikeRecorded>,
): Promise<void> {
  const { run, strikeNumber, occasion, verdict, mass, diameter, thickness } = entry.body;
  const { outside, photographs, defect } = entry.body;
  const before = await runRow(books, run);
  const approved = verdict === 'approved';
  await books.put(runs, {
    ...before,
    state: stateAfterStrike(before, entry.body),
    lastStrike: strikeNumber,
    lastOccasion: occasion,
    firstApproved: before.firstApproved || (approved && occasion === 'first'),
    lastApprovedStrike: approved ? strikeNumber : before.lastApprovedStrike,
    judgedUpTo: approved ? Math.max(before.judgedUpTo, strikeNumber) : before.judgedUpTo,
  });
  await books.put(strikes, {
    run,
    strikeNumber,
    occasion,
    verdict,
    entry: entry.number,
    instant: entry.instant,
    shift: entry.shift,
    author: entry.author,
    mass,
    diameter,
    thickness,
    outside,
    photographs,
    defect,
  });
}

export async function applyHoldOpened(
  books: BookWriter,
  entry: RecordedEntry<HoldOpened>,
): Promise<void> {
  const { hold, family, held } = entry.body;
  await books.put(holds, {
    ...entry.body,
    state: 'open',
    openedEntry: entry.number,
    openedInstant: entry.instant,
    openedBy: entry.author,
    reason: null,
    resolvedInstant: null,
    resolvedBy: null,
  });
  for (const range of held) {
    await books.put(heldRuns, { ...range, hold, family, state: 'open', piecesDelivered: 0 });
  }
}

function transferRow(entry: RecordedEntry<RejectsSetAside | PiecesDelivered>): TransferRow {
  return {
    entry: entry.number,
    run: entry.body.run,
    melt: entry.body.melt,
    pieces: entry.body.pieces,
    grossMicrograms: entry.body.grossMicrograms,
    instrument: entry.instrument,
    instant: entry.instant,
    author: entry.author,
    witness: entry.witness,
  };
}

export async function applyRejects(
  books: BookWriter,
  entry: RecordedEntry<RejectsSetAside>,
): Promise<void> {
  const { run, pieces, family } = entry.body;
  await books.put(rejects, { ...transferRow(entry), family });
  const before = await runRow(books, run);
  await books.put(runs, { ...before, piecesRejected: before.piecesRejected + pieces });
}

export async function applyDelivery(
  books: BookWriter,
  entry: RecordedEntry<PiecesDelivered>,
): Promise<void> {
  const { run, pieces, obverse, reverse, collar } = entry.body;
  await books.put(deliveries, { ...transferRow(entry), obverse, reverse, collar });
  const before = await runRow(books, run);
  await books.put(runs, { ...before, piecesDelivered: before.piecesDelivered + pieces });
}

export async function applyRunClosed(
  books: BookWriter,
  entry: RecordedEntry<RunClosed>,
): Promise<void> {
  const { run, press, counterAfter, strokes, obverse, reverse, collar } = entry.body;
  await books.put(runs, {
    ...(await runRow(books, run)),
    state: 'closed',
    counterAfter,
    closedInstant: entry.instant,
    closedShift: entry.shift,
  });
  await books.put(presses, { press, openRun: null, counter: counterAfter });
  for (const die of [obverse, reverse, collar]) {
    const before = await books.get(diesUsed, die);
    invariant(before, `die ${die} is in no book`);
    await books.put(diesUsed, { ...before, openRun: null, strokes: before.strokes + strokes });
  }
}

export async function applyHoldResolved(
  books: BookWriter,
  entry: RecordedEntry<HoldResolved>,
): Promise<void> {
  const { hold, ruling, reason, held, run, strikeNumber } = entry.body;
  const before = await books.get(holds, hold);
  invariant(before, `hold ${hold} is in no book`);
  await books.put(holds, {
    ...before,
    state: ruling,
    reason,
    resolvedInstant: entry.instant,
    resolvedBy: entry.author,
  });
  for (const range of held) {
    const row = await books.get(heldRuns, range.run, hold);
    invariant(row, `hold ${hold} covers run ${range.run} in no book`);
    const piecesDelivered = ruling === 'scrap' ? range.piecesDelivered : 0;
    await books.put(heldRuns, { ...row, state: ruling, piecesDelivered });
    if (ruling === 'scrap') await condemn(books, range);
  }
  if (ruling === 'release') await judge(books, run, strikeNumber);
}

async function condemn(
  books: BookWriter,
  range: { run: string; strikeFrom: number; strikeTo: number },
): Promise<void> {
  const before = await runRow(books, range.run);
  const { strikeFrom, strikeTo } = range;
  const condemned = [...before.condemned, { strikeFrom, strikeTo }];
  await books.put(runs, { ...before, condemned });
}

/** A release stands for the approval that the faulty strike did not give. */
async function judge(books: BookWriter, run: string, strikeNumber: number): Promise<void> {
  const before = await runRow(books, run);
  await books.put(runs, { ...before, judgedUpTo: Math.max(before.judgedUpTo, strikeNumber) });
}
