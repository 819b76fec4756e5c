import type { BookReader, BookWriter } from '../../../../journal/books.ts';
import type { RecordedEntry } from '../../../../journal/entry.ts';
import type { Recipient } from '../words.ts';
import type { ExchangeSettledBody, PortionResultReportedBody } from './bodies.ts';
import {
  type ExchangeSettlement,
  exchanges,
  ownResults,
  type ReportedResult,
  reportedResults,
} from './books.ts';
import { type StandingResults, stateOf } from './compare.ts';

/** What supplier and umpire reported of a melt and nobody corrected, oldest first. */
export async function reportsOf(
  books: BookReader,
  melt: string,
): Promise<readonly ReportedResult[]> {
  const all = await books.select(reportedResults, { prefix: [melt] });
  return all.filter(({ correctedBy }) => correctedBy === null);
}

/** The results of a melt that stand against one another. */
export async function standingResults(books: BookReader, melt: string): Promise<StandingResults> {
  const reports = await reportsOf(books, melt);
  const newest = (side: Recipient) => reports.findLast(({ from }) => from === side);
  return {
    own: await books.get(ownResults, melt),
    supplier: newest('supplier'),
    umpire: newest('umpire'),
  };
}

/** A settlement holds as long as the results that it rests on are those that stand. */
function holds(settlement: ExchangeSettlement, standing: StandingResults): boolean {
  return (
    settlement.ownResult === standing.own?.entry &&
    settlement.supplierReport === standing.supplier?.entry &&
    settlement.umpireReport === (standing.umpire?.entry ?? null)
  );
}

/** Holds the results of a melt against one another again, after one of them changed. */
async function followExchange(
  books: BookWriter,
  of: { readonly melt: string; readonly instant: string },
  settled?: ExchangeSettlement,
): Promise<void> {
  const standing = await standingResults(books, of.melt);
  if (!standing.supplier && !standing.umpire) return;
  const before = await books.get(exchanges, of.melt);
  const settlement = settled ?? before?.settlement ?? null;
  const state = settlement && holds(settlement, standing) ? 'settled' : stateOf(standing);
  const since = before && before.state === state ? before.since : of.instant;
  await books.put(exchanges, { melt: of.melt, state, since, settlement });
}

export async function applyReport(
  books: BookWriter,
  entry: RecordedEntry<PortionResultReportedBody>,
): Promise<void> {
  const { body, number, instant, author, corrects } = entry;
  const corrected =
    corrects === null ? undefined : await books.get(reportedResults, body.melt, corrects);
  if (corrected) await books.put(reportedResults, { ...corrected, correctedBy: number });
  await books.put(reportedResults, { ...body, entry: number, instant, author, correctedBy: null });
  await followExchange(books, { melt: body.melt, instant });
}

export async function applySettlement(
  books: BookWriter,
  entry: RecordedEntry<ExchangeSettledBody>,
): Promise<void> {
  const { body, number, instant, author } = entry;
  const witness = entry.witness ?? '';
  await followExchange(
    books,
    { melt: body.melt, instant },
    { ...body, entry: number, instant, author, witness },
  );
}

/** Notes the plant's own result of a melt, or that none stands any more. */
export async function noteOwnResult(
  books: BookWriter,
  entry: Pick<RecordedEntry, 'number' | 'instant'>,
  result: {
    readonly melt: string;
    readonly own: {
      readonly finenessPerMille: number;
      readonly standardUncertaintyPerMille: number;
    } | null;
  },
): Promise<void> {
  const { melt, own } = result;
  if (own) {
    const { finenessPerMille, standardUncertaintyPerMille } = own;
    const row = { melt, finenessPerMille, standardUncertaintyPerMille, entry: entry.number };
    await books.put(ownResults, row);
  } else {
    await books.remove(ownResults, melt);
  }
  await followExchange(books, { melt, instant: entry.instant });
}
