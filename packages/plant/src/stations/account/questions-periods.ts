import { calculationById } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { insidePlaces } from '../../journal/place.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { personOf, pieceStandardOf } from '../registers/index.ts';
import { corrections, periods } from './books-periods.ts';
import { presentShift } from './docket.ts';
import { overviewOf } from './overview.ts';
import { newestPeriods, openPeriods } from './period-list.ts';
import { maySeeBook } from './sees-book.ts';
import { type Series, seriesOf } from './series.ts';

const nameOf = async (books: BookReader, person: string): Promise<string> =>
  (await personOf(books, person))?.name ?? person;

const periodsQuestion = defineQuestion({
  question: 'periods',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const present = await presentShift(books, inquirer.instant);
    const { openShifts } = await overviewOf(books);
    const open = await openPeriods(books, present, openShifts);
    const rows = await newestPeriods(books, { days: 62, months: 24 }, open);
    return { presentShift: present, periods: rows as unknown as Json };
  },
});

const periodQuestion = defineQuestion({
  question: 'period',
  station: 'account',
  input: z.strictObject({ period: z.string().regex(/^\d{4}-\d{2}(-\d{2})?$/) }),
  answer: async (books, { period }, inquirer) => {
    const row = await books.get(periods, period);
    if (!row) return { period, isKnown: false };
    const present = await presentShift(books, inquirer.instant);
    const { openShifts } = await overviewOf(books);
    const open = await openPeriods(books, present, openShifts);
    const later = await books.select(corrections, { prefix: [period] });
    const book = maySeeBook(inquirer);
    return {
      period,
      isKnown: true,
      length: row.length,
      state: open.find((one) => one.period === period)?.state ?? 'closed',
      shifts: [...row.shifts],
      seesBook: book,
      closed: row.statement
        ? {
            entry: row.entry,
            instant: row.instant,
            author: await nameOf(books, row.author ?? ''),
            witness: await nameOf(books, row.witness ?? ''),
            firstEntry: row.statement.firstEntry,
            lastEntry: row.statement.lastEntry,
            lastEntryLeafHash: row.statement.lastEntryLeafHash,
            treeHash: row.statement.treeHash,
            shifts: row.statement.shifts,
            days: row.statement.days,
            openDifferences: row.statement.openDifferences,
            lines: book ? row.statement.lines : null,
            differences: book ? row.statement.differences : null,
          }
        : null,
      corrections: await Promise.all(
        later.map(async (one) => ({ ...one, name: await nameOf(books, one.author) })),
      ),
    } as unknown as Json;
  },
});

function seriesAnswer({ rows, input, output, resolved, signal }: Series): Json {
  const { draw } = calculationById('balance-series');
  return {
    entries: rows.map((row) => row.entry),
    periods: output.periods,
    decisionInterval: output.decisionInterval,
    referenceValue: input.referenceValue,
    inControlRunLengthPeriods: output.inControlRunLengthPeriods,
    shiftedRunLengthPeriods: output.shiftedRunLengthPeriods,
    quadraticStatistic: output.quadraticStatistic,
    quadraticProbability: output.quadraticProbability,
    steadyLossGrams: output.steadyLossGrams,
    steadyLossStandardUncertaintyGrams: output.steadyLossStandardUncertaintyGrams,
    newest: output.newest,
    history: output.history,
    words: output.words,
    signal: signal ?? null,
    resolved: resolved ?? null,
    drawings: draw?.(input, output) ?? [],
  } as unknown as Json;
}

const differenceHistory = defineQuestion({
  question: 'difference-history',
  station: 'account',
  input: z.strictObject({
    place: z.enum(insidePlaces),
    pieceStandard: z.string().min(1).max(40),
  }),
  answer: async (books, { place, pieceStandard }, inquirer) => {
    const book = maySeeBook(inquirer);
    const standard = await pieceStandardOf(books, pieceStandard);
    const series = book ? await seriesOf(books, place, pieceStandard) : undefined;
    return {
      place,
      pieceStandard,
      title: standard?.title ?? pieceStandard,
      metal: standard?.metal ?? '',
      seesBook: book,
      series: series ? seriesAnswer(series) : null,
    };
  },
});

export const periodQuestions = [periodsQuestion, periodQuestion, differenceHistory] as const;
