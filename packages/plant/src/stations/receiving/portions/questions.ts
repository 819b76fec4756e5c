import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { balances } from '../../../journal/core-books.ts';
import { maySeeBook } from '../../../journal/sees-book.ts';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json, JsonObject } from '../../../ports/json.ts';
import { instrumentsAtPlace, pieceStandardOf, plantDay } from '../../registers/index.ts';
import { blanks, consignments, melts, samplingOrders } from '../books.ts';
import { isMeltInDispute } from '../difference/queries.ts';
import { blankUse, type PortionRow, portions, type SendingRow, sendings } from './books.ts';
import { heldBlanks, keptPortions, portionsOfMelt } from './read-model.ts';
import { reportedQuestions } from './reported/questions.ts';
import { reportsOf } from './reported/read-model.ts';
import { recipientsOf } from './words.ts';

const station = 'receiving';

async function portionShown(books: BookReader, row: PortionRow, day: string): Promise<JsonObject> {
  // A seal is read off the portion, never off a screen: whoever checks it must have it in his hand.
  const { seal: _seal, blanks: own, ...shown } = row;
  return {
    ...shown,
    blanks: [...own],
    pieces: own.length,
    isOverdue: row.keptUntil !== null && row.keptUntil < day,
    isInDispute: await isMeltInDispute(books, row.melt),
    recipients: [...recipientsOf(row.for)],
  };
}

/** The shelf: every portion that is sealed here or outside. */
const portionsQuestion = defineQuestion({
  question: 'portions',
  station,
  input: z.strictObject({}),
  answer: async (books, _input, { instant }) => {
    const day = await plantDay(books, instant);
    const shown: JsonObject[] = [];
    for (const row of await keptPortions(books)) shown.push(await portionShown(books, row, day));
    return { day, portions: shown };
  },
});

const balancesOf = async (books: BookReader): Promise<Json> => {
  const found: JsonObject[] = [];
  for (const place of ['laboratory', 'receiving']) {
    for (const one of await instrumentsAtPlace(books, place)) {
      const { instrument, title, kind } = one;
      if (kind === 'balance') found.push({ instrument, title });
    }
  }
  return found;
};

async function sendingShown(
  books: BookReader,
  { entry, answerBy }: SendingRow,
  melt: string,
): Promise<JsonObject> {
  const reports = await reportsOf(books, melt);
  return { entry, answerBy, isReported: reports.some(({ sending }) => sending === entry) };
}

/** One portion, with what can be done with it now. */
const portionQuestion = defineQuestion({
  question: 'portion',
  station,
  input: z.strictObject({ portion: z.string() }),
  answer: async (books, input, { instant }) => {
    const row = await books.get(portions, input.portion);
    if (!row) return null;
    const day = await plantDay(books, instant);
    const [sent] = await books.select(sendings, {
      prefix: [input.portion],
      descending: true,
      limit: 1,
    });
    return {
      ...(await portionShown(books, row, day)),
      sent: sent ? await sendingShown(books, sent, row.melt) : null,
      balances: await balancesOf(books),
    };
  },
});

/** What of a melt's sample can be sealed into portions, and what has been. */
const meltPortions = defineQuestion({
  question: 'melt-portions',
  station,
  input: z.strictObject({ melt: z.string() }),
  answer: async (books, input, { instant, person }) => {
    const melt = await books.get(melts, input.melt);
    const order = await books.get(samplingOrders, input.melt);
    if (!melt || !order) return null;
    const day = await plantDay(books, instant);
    const consignment = await books.get(consignments, melt.consignment);
    const standard = await pieceStandardOf(books, melt.pieceStandard);
    const own = await portionsOfMelt(books, input.melt);
    const held = await heldBlanks(books, input.melt);
    const sample: JsonObject[] = [];
    for (const row of await books.select(blanks, { by: 'byMelt', prefix: [input.melt] })) {
      // Further blanks that were never taken lie in no sample.
      if (row.further !== undefined && !row.isDrawn) continue;
      const uses = (await books.select(blankUse, { prefix: [row.blank] })).map(({ use }) => use);
      const holding = held.get(row.blank);
      const isWhole = row.isDrawn && !uses.some((use) => use !== 'measured');
      const isReady = !row.forPhysical || uses.includes('measured');
      sample.push({
        blank: row.blank,
        forAssay: row.forAssay,
        isWhole,
        canBeSealed: isWhole && isReady && !holding,
        portion: holding?.portion ?? null,
      });
    }
    const lying = consignment
      ? await books.get(balances, 'laboratory', consignment.metal, melt.pieceStandard, input.melt)
      : undefined;
    const sealed = own.filter(({ state }) => state === 'sealed');
    const shown: JsonObject[] = [];
    for (const row of own) shown.push(await portionShown(books, row, day));
    return {
      melt: input.melt,
      day,
      isDrawn: order.drawnEntry !== null,
      pieceStandardTitle: standard?.title ?? melt.pieceStandard,
      blanks: sample,
      // Whoever counts the laboratory's metal is not told what should lie there.
      freeMicrograms: maySeeBook({ person })
        ? (lying?.grossMicrograms ?? 0) -
          sealed.reduce((sum, { grossMicrograms }) => sum + grossMicrograms, 0)
        : null,
      portions: shown,
      balances: await balancesOf(books),
    };
  },
});

export const portionQuestions = [
  portionsQuestion,
  portionQuestion,
  meltPortions,
  ...reportedQuestions,
] as const;
