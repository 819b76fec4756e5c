import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type BalanceRow, balanceOfPlace } from '../../journal/core-books.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { rulingOf } from '../laboratory/index.ts';
import { idSchema, instrumentsAtPlace, pieceStandardOf } from '../registers/index.ts';
import { deliveries, holds, type RunRow, rejects, runs } from './books.ts';
import { holdsOfRun, openHolds, openRuns, runOf, strikesOfRun } from './queries.ts';
import { limitsOf } from './record-strike.ts';
import { piecesDeliverable } from './strike-ranges.ts';
import { isStrikingRuling } from './take-blanks.ts';

const closedRunsShown = 20;

function summaryOf(run: RunRow): JsonObject {
  const { condemned: _condemned, ...shown } = run;
  return { ...shown, piecesDeliverable: piecesDeliverable(run) };
}

/** The melts that lie at receiving with a ruling that lets them be struck, and those in the press room. */
async function meltsAtHand(books: BookReader): Promise<readonly JsonObject[]> {
  const holding = (rows: readonly BalanceRow[]) =>
    new Map(rows.filter((row) => row.pieces > 0 && row.melt).map((row) => [row.melt, row]));
  const atReceiving = holding(await balanceOfPlace(books, 'receiving'));
  const inPressRoom = holding(await balanceOfPlace(books, 'press-room'));
  const melts: JsonObject[] = [];
  for (const melt of new Set([...inPressRoom.keys(), ...atReceiving.keys()])) {
    const ruling = (await rulingOf(books, melt))?.ruling ?? null;
    const here = inPressRoom.get(melt);
    if (!here && !isStrikingRuling(ruling)) continue;
    const row = here ?? atReceiving.get(melt);
    const standard = row && (await pieceStandardOf(books, row.pieceStandard));
    melts.push({
      melt,
      ruling,
      metal: row?.metal ?? null,
      pieceStandard: row?.pieceStandard ?? null,
      title: standard?.title ?? null,
      piecesAtReceiving: atReceiving.get(melt)?.pieces ?? 0,
      piecesInPressRoom: here?.pieces ?? 0,
      grossMicrogramsInPressRoom: here?.grossMicrograms ?? 0,
    });
  }
  return melts;
}

async function runsClosedLast(books: BookReader): Promise<readonly RunRow[]> {
  return books.select(runs, {
    by: 'byState',
    prefix: ['closed'],
    descending: true,
    limit: closedRunsShown,
  });
}

const pressRoomDesk = defineQuestion({
  question: 'press-room-desk',
  station: 'press-room',
  input: z.strictObject({}),
  answer: async (books): Promise<Json> => ({
    melts: await meltsAtHand(books),
    runsOpen: (await openRuns(books)).map(summaryOf),
    runsClosed: (await runsClosedLast(books)).map(summaryOf),
    holds: await openHolds(books),
    instruments: await instrumentsAtPlace(books, 'press-room'),
  }),
});

const runQuestion = defineQuestion({
  question: 'run',
  station: 'press-room',
  input: z.strictObject({ run: idSchema }),
  answer: async (books, { run: named }): Promise<Json> => {
    const run = await runOf(books, named);
    if (!run) return null;
    const covering = await holdsOfRun(books, named);
    const held = await Promise.all(covering.map((row) => books.get(holds, row.hold)));
    const standard = await pieceStandardOf(books, run.pieceStandard);
    return {
      run: { ...summaryOf(run), title: standard?.title ?? null },
      limits: standard ? limitsOf(standard) : null,
      strikes: await strikesOfRun(books, named),
      rejects: await books.select(rejects, { by: 'byRun', prefix: [named] }),
      deliveries: await books.select(deliveries, { by: 'byRun', prefix: [named] }),
      holds: held.filter((hold) => hold !== undefined),
    };
  },
});

const holdQuestion = defineQuestion({
  question: 'hold',
  station: 'press-room',
  input: z.strictObject({ hold: idSchema }),
  answer: async (books, { hold: named }): Promise<Json> => {
    const hold = await books.get(holds, named);
    if (!hold) return null;
    const concerned = await Promise.all(hold.held.map(({ run }) => runOf(books, run)));
    return {
      hold,
      runs: concerned.filter((run) => run !== undefined).map(summaryOf),
    };
  },
});

export const pressRoomQuestions = [pressRoomDesk, runQuestion, holdQuestion] as const;
