import type { BookReader } from '../../journal/books.ts';
import { type HeldRunRow, heldRuns, type RunRow } from './books.ts';
import { runOf } from './queries.ts';
import { heldPiecesDelivered } from './resolve-hold.ts';

export type { DeliveryRow } from './books.ts';
export { deliveriesOfMelt, deliveryOf } from './queries.ts';

/** Holds that reach the pieces of a melt in put-up. */
export interface HoldsBeyondPress {
  /** Open holds that can concern pieces that have left the press room. */
  readonly open: readonly string[];
  /** Pieces that had left when they were ruled to be scrap. */
  readonly piecesCondemned: number;
}

function reachesPutUp(row: HeldRunRow, run: RunRow | undefined): boolean {
  return row.family === 'metal' || heldPiecesDelivered(row, run?.piecesDelivered ?? 0) > 0;
}

/**
 * Which holds reach beyond the press room for a melt: those of its metal always, the others where
 * a piece among the held strikes has been delivered.
 */
export async function holdsBeyondPress(books: BookReader, melt: string): Promise<HoldsBeyondPress> {
  const open = new Set<string>();
  for (const row of await books.select(heldRuns, { by: 'byMelt', prefix: [melt, 'open'] })) {
    if (reachesPutUp(row, await runOf(books, row.run))) open.add(row.hold);
  }
  const scrap = await books.select(heldRuns, { by: 'byMelt', prefix: [melt, 'scrap'] });
  return {
    open: [...open],
    piecesCondemned: scrap.reduce((sum, row) => sum + row.piecesDelivered, 0),
  };
}
