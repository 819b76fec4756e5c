import { z } from 'zod';
import { defineQuestion } from '../../../journal/station.ts';
import type { Json } from '../../../ports/json.ts';
import { maySeeBook } from '../sees-book.ts';
import { numberSeries } from './books.ts';
import { numberText, seriesBalance } from './series-balance.ts';

/** Every series with what became of its numbers; those who count are not told what should be left. */
const numberSeriesQuestion = defineQuestion({
  question: 'number-series',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const seesBook = maySeeBook(inquirer);
    const rows: Json[] = [];
    for (const series of await books.select(numberSeries)) {
      const { received, used, spoiled, left, usedThoughSpoiled } = await seriesBalance(
        books,
        series,
      );
      rows.push({
        series: series.series,
        item: series.item,
        first: numberText(series, series.first),
        last: numberText(series, series.last),
        received,
        used: seesBook ? used : null,
        spoiled: seesBook ? spoiled : null,
        left: seesBook ? left : null,
        usedThoughSpoiled: [...usedThoughSpoiled],
        counted: series.count && {
          instant: series.count.instant,
          found: series.count.found,
          difference: seesBook ? series.count.difference : null,
        },
      });
    }
    return { seesBook, series: rows };
  },
});

export const itemQuestions = [numberSeriesQuestion] as const;
