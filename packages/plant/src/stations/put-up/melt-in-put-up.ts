import type { BookReader } from '../../journal/books.ts';
import { balances } from '../../journal/core-books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { deliveriesOfMelt, type HoldsBeyondPress, holdsBeyondPress } from '../press-room/index.ts';
import { meltOf } from '../receiving/index.ts';
import { type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import { acceptances, meltsInPutUp } from './books.ts';
import { namedBalance } from './instrument-check.ts';
import type { CountedDelivery } from './reference-mean.ts';
import { putUpRefusals } from './refusals.ts';

/** What put-up knows about a melt. */
export interface MeltInPutUp {
  readonly melt: string;
  /** Nothing where no consignment brought the melt. */
  readonly standard: PieceStandard | undefined;
  /** Pieces that lie in put-up and in no tube. */
  readonly piecesLoose: number;
  /** Pieces in put-up that were ruled to be scrap and are still there. */
  readonly piecesCondemned: number;
  readonly holds: HoldsBeyondPress;
  readonly deliveries: readonly CountedDelivery[];
  /** Runs that have delivered pieces of the melt. */
  readonly runs: readonly string[];
}

/** Looks a melt up. */
export async function meltInPutUp(
  books: BookReader,
  melt: string,
  instant: string,
): Promise<MeltInPutUp> {
  const received = await meltOf(books, melt);
  const standard = received && (await pieceStandardOf(books, received.pieceStandard));
  const held =
    standard && (await books.get(balances, 'put-up', standard.metal, standard.pieceStandard, melt));
  const own = await books.get(meltsInPutUp, melt);
  const holds = await holdsBeyondPress(books, melt);
  const delivered = [];
  for (const sent of await deliveriesOfMelt(books, melt)) {
    if (await books.get(acceptances, sent.entry)) delivered.push(sent);
  }
  const deliveries: CountedDelivery[] = [];
  for (const { entry, pieces, grossMicrograms, instrument } of delivered) {
    const found = instrument ? await namedBalance(books, instrument, instant) : undefined;
    deliveries.push({ entry, pieces, grossMicrograms, balance: found?.balance });
  }
  return {
    melt,
    standard,
    piecesLoose: (held?.pieces ?? 0) - (own?.piecesInTubes ?? 0),
    piecesCondemned: Math.max(0, holds.piecesCondemned - (own?.piecesScrapped ?? 0)),
    holds,
    deliveries,
    runs: [...new Set(delivered.map((delivery) => delivery.run))],
  };
}

/** Refuses a melt that no consignment brought. */
export function meltUnknownRefusals(found: MeltInPutUp): readonly Refusal[] {
  if (found.standard) return [];
  const { melt } = found;
  const message = `No consignment brought a melt ${melt}.`;
  return [refuse(putUpRefusals, 'MeltUnknown', { message, field: 'melt', figures: { melt } })];
}

/** Why pieces of the melt may not go on: an open hold, or condemned pieces among them. */
export function meltHeldRefusals(
  melt: string,
  found: { holds: HoldsBeyondPress; piecesCondemned: number },
  field: string,
): readonly Refusal[] {
  if (found.holds.open.length > 0) {
    const message = `Pieces of melt ${melt} in put-up are held: ${found.holds.open.join(', ')}.`;
    const figures = { melt, holds: [...found.holds.open] };
    return [refuse(putUpRefusals, 'MeltOnHold', { message, field, figures })];
  }
  if (found.piecesCondemned === 0) return [];
  return [
    refuse(putUpRefusals, 'PiecesCondemned', {
      message: `${found.piecesCondemned} pieces of melt ${melt} in put-up were ruled to be scrap.`,
      field,
      figures: { melt, pieces: found.piecesCondemned },
    }),
  ];
}

/** Refuses more pieces than lie loose. */
export function looseRefusals(found: MeltInPutUp, pieces: number): readonly Refusal[] {
  if (pieces <= found.piecesLoose) return [];
  return [
    refuse(putUpRefusals, 'NotEnoughLoosePieces', {
      message: `${pieces} pieces are named; ${found.piecesLoose} of melt ${found.melt} lie loose in put-up.`,
      field: 'pieces',
      figures: { melt: found.melt, pieces, piecesLoose: found.piecesLoose },
      toOthers: {
        message: `${pieces} pieces are named; fewer of melt ${found.melt} lie loose in put-up.`,
        figures: { melt: found.melt, pieces },
      },
    }),
  ];
}
