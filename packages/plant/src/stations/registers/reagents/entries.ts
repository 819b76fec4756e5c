import type { BookWriter } from '../../../journal/books.ts';
import type { RecordedEntry } from '../../../journal/entry.ts';
import { type Draft, defineKind, draft } from '../../../journal/station.ts';
import {
  type ReagentLotCondemned as CondemnedBody,
  type TitrantFactorStated as FactorBody,
  type ReagentLotOpened as OpenedBody,
  type ReagentLotReceived as ReceivedBody,
  reagentLotCondemned,
  reagentLotOpened,
  reagentLotReceived,
  titrantFactorStated,
} from './bodies.ts';
import { type ReagentLotRow, reagentLots, type TitrantFactorRow, titrantFactors } from './books.ts';

const station = 'registers';
const thingOf = (lot: string) => ({ thing: 'reagent-lot', id: lot });

const actOf = ({ number, instant, author }: RecordedEntry) => ({ entry: number, instant, author });

async function changeLot(
  books: BookWriter,
  lot: string,
  change: Partial<ReagentLotRow>,
): Promise<void> {
  const row = await books.get(reagentLots, lot);
  if (row) await books.put(reagentLots, { ...row, ...change });
}

export const ReagentLotReceived = defineKind<ReceivedBody>({
  kind: 'ReagentLotReceived',
  version: 1,
  station,
  meaning: 'A lot of a reagent came to the laboratory, or was made there. It is not yet open.',
  body: reagentLotReceived,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.lot)],
  apply: async (books, entry) => {
    await books.put(reagentLots, {
      ...entry.body,
      state: 'closed',
      opened: null,
      condemned: null,
      factor: null,
      entry: entry.number,
      since: entry.instant,
    });
  },
});

export const ReagentLotOpened = defineKind<OpenedBody>({
  kind: 'ReagentLotOpened',
  version: 1,
  station,
  meaning: 'A lot of a reagent was opened; from then on runs may name it, until its last day.',
  body: reagentLotOpened,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.lot)],
  apply: async (books, entry) => {
    const { lot, expires } = entry.body;
    await changeLot(books, lot, { state: 'open', expires, opened: actOf(entry) });
  },
});

export const ReagentLotCondemned = defineKind<CondemnedBody>({
  kind: 'ReagentLotCondemned',
  version: 1,
  station,
  meaning:
    'A lot of a reagent was found unfit, with the reason. Runs made with it stay recorded, and none is signed or released on before the chief assayer has said which stand.',
  body: reagentLotCondemned,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.lot)],
  apply: async (books, entry) => {
    const { lot, reason } = entry.body;
    const condemned = { ...actOf(entry), reason };
    await changeLot(books, lot, { state: 'condemned', condemned });
  },
});

const TitrantFactorStated = defineKind<FactorBody>({
  kind: 'TitrantFactorStated',
  version: 1,
  station,
  meaning:
    'The factor of a titrant was determined against standards, with its uncertainty. It holds for that lot until the next one.',
  body: titrantFactorStated,
  postings: 'moves nothing',
  things: (body) => [thingOf(body.lot), { thing: 'assay-run', id: body.determinedIn }],
  apply: async (books, entry) => {
    const factor = { ...entry.body, ...actOf(entry), withdrawn: null };
    await books.put(titrantFactors, factor);
    await changeLot(books, entry.body.lot, { factor });
  },
});

/** The entry by which a determination states the factor of a titrant. */
export function draftTitrantFactor(body: FactorBody): Draft {
  return draft(TitrantFactorStated, body);
}

/**
 * Takes back the factors that a determination stated, once it is set aside: the newest of the lot
 * that still counts stands again.
 */
export async function withdrawTitrantFactor(
  books: BookWriter,
  entry: Pick<RecordedEntry, 'number'>,
  of: { readonly lot: string; readonly determinedIn: string },
): Promise<void> {
  const stated = await books.select(titrantFactors, { prefix: [of.lot], descending: true });
  const isTaken = (row: TitrantFactorRow) =>
    row.determinedIn === of.determinedIn && row.withdrawn === null;
  for (const row of stated.filter(isTaken)) {
    await books.put(titrantFactors, { ...row, withdrawn: entry.number });
  }
  const factor = stated.find((row) => row.withdrawn === null && !isTaken(row)) ?? null;
  await changeLot(books, of.lot, { factor });
}

export const reagentKinds = [
  ReagentLotReceived,
  ReagentLotOpened,
  ReagentLotCondemned,
  TitrantFactorStated,
] as const;
