import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type BalanceRow, balanceOfPlace } from '../../journal/core-books.ts';
import { maySeeBook } from '../../journal/sees-book.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { rulingNameOf } from '../laboratory/index.ts';
import {
  idSchema,
  instrumentsAtPlace,
  outOfUse,
  pieceStandardOf,
  plantDay,
} from '../registers/index.ts';
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

/**
 * The melts that lie at receiving with a ruling that lets them be struck, and those in the press room; how many
 * pieces of each only for those who see the book.
 */
async function meltsAtHand(books: BookReader, seesBook: boolean): Promise<readonly JsonObject[]> {
  const told = (figure: number): number | null => (seesBook ? figure : null);
  const holding = (rows: readonly BalanceRow[]) =>
    new Map(rows.filter((row) => row.pieces > 0 && row.melt).map((row) => [row.melt, row]));
  const atReceiving = holding(await balanceOfPlace(books, 'receiving'));
  const inPressRoom = holding(await balanceOfPlace(books, 'press-room'));
  const titles = new Map<string, string | null>();
  const titleOf = async (pieceStandard: string): Promise<string | null> => {
    const known = titles.get(pieceStandard);
    if (known !== undefined) return known;
    const title = (await pieceStandardOf(books, pieceStandard))?.title ?? null;
    titles.set(pieceStandard, title);
    return title;
  };
  const melts: JsonObject[] = [];
  for (const melt of new Set([...inPressRoom.keys(), ...atReceiving.keys()])) {
    const ruling = await rulingNameOf(books, melt);
    const here = inPressRoom.get(melt);
    if (!here && !isStrikingRuling(ruling)) continue;
    const row = here ?? atReceiving.get(melt);
    melts.push({
      melt,
      ruling,
      metal: row?.metal ?? null,
      pieceStandard: row?.pieceStandard ?? null,
      title: row ? await titleOf(row.pieceStandard) : null,
      isAtReceiving: atReceiving.has(melt),
      isInPressRoom: here !== undefined,
      piecesAtReceiving: told(atReceiving.get(melt)?.pieces ?? 0),
      piecesInPressRoom: told(here?.pieces ?? 0),
      grossMicrogramsInPressRoom: told(here?.grossMicrograms ?? 0),
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

async function instrumentsHere(books: BookReader, instant: string): Promise<Json> {
  const day = await plantDay(books, instant);
  const here = await instrumentsAtPlace(books, 'press-room');
  return here.map((one) => ({ ...one, outOfUse: outOfUse(one, day) }));
}

const pressRoomDesk = defineQuestion({
  question: 'press-room-desk',
  station: 'press-room',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer): Promise<Json> => ({
    melts: await meltsAtHand(books, maySeeBook(inquirer)),
    runsOpen: (await openRuns(books)).map(summaryOf),
    runsClosed: (await runsClosedLast(books)).map(summaryOf),
    holds: await openHolds(books),
    instruments: await instrumentsHere(books, inquirer.instant),
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
