import { z } from 'zod';
import type { BookReader } from '../../../../journal/books.ts';
import { maySeeBook } from '../../../../journal/sees-book.ts';
import { defineQuestion, type Person } from '../../../../journal/station.ts';
import type { Json, JsonObject } from '../../../../ports/json.ts';
import { drums } from '../../books.ts';
import { portionsOfMelt } from '../read-model.ts';
import { exchanges, type ReportedResult } from './books.ts';
import { compareResults, exchangedFineness } from './compare.ts';
import { reportsOf, standingResults } from './read-model.ts';

/** Grams of the melt that came and did not go back; nothing for those who count. */
async function gramsOf(
  books: BookReader,
  of: { readonly melt: string; readonly person: Person },
): Promise<number | undefined> {
  if (!maySeeBook({ person: of.person })) return undefined;
  const own = await books.select(drums, { by: 'byMelt', prefix: [of.melt] });
  return own
    .filter(({ state }) => state !== 'returned')
    .reduce((sum, { netMicrograms }) => sum + (netMicrograms ?? 0) / 1e6, 0);
}

/** A report as it may be shown: its figures only once the plant's own result is signed. */
function reportShown(report: ReportedResult, isSigned: boolean): JsonObject {
  const { portion, from, entry, instant, document, reportedOn, method } = report;
  const { fineness, uncertainty, splittingLimit } = report;
  return {
    portion,
    from,
    entry,
    instant,
    document,
    reportedOn,
    figures: isSigned
      ? ({ fineness, uncertainty, splittingLimit, method } as unknown as JsonObject)
      : null,
  };
}

/** The results that plant, supplier and umpire exchanged of a melt, and how they stand. */
const meltExchange = defineQuestion({
  question: 'melt-exchange',
  station: 'receiving',
  input: z.strictObject({ melt: z.string() }),
  answer: async (books, { melt }, { person }) => {
    const exchange = await books.get(exchanges, melt);
    if (!exchange) return null;
    const standing = await standingResults(books, melt);
    const { own } = standing;
    const isSigned = own !== undefined;
    const comparison = compareResults(standing, await gramsOf(books, { melt, person }));
    const umpires = (await portionsOfMelt(books, melt)).filter((row) => row.for === 'umpire');
    return {
      melt,
      state: exchange.state,
      since: exchange.since,
      isSigned,
      own: own
        ? {
            text: exchangedFineness(own),
            standardUncertaintyPerMille: own.standardUncertaintyPerMille,
          }
        : null,
      reports: (await reportsOf(books, melt)).map((one) => reportShown(one, isSigned)),
      comparison: comparison
        ? ({ limit: comparison.limit, output: comparison.output } as unknown as Json)
        : null,
      settlement: isSigned ? (exchange.settlement as unknown as Json) : null,
      umpirePortions: umpires.map(({ portion, state }) => ({ portion, state })),
    };
  },
});

export const reportedQuestions = [meltExchange] as const;
