import type { BookReader } from '../../../journal/books.ts';
import { balances } from '../../../journal/core-books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Blank,
  blanks,
  type Consignment,
  consignments,
  type Drum,
  drums,
  melts,
} from '../books.ts';
import type { FurtherRound } from './books.ts';
import { openFurtherRound } from './read-model.ts';
import { furtherRefusals } from './refusals.ts';

/** A drum of the melt with the blanks that are left in it. */
interface DrumLeft {
  readonly drum: string;
  /** Blanks that earlier draws took out of it. */
  readonly taken: number;
  readonly pieces: number;
}

/** What the acts on a round of further blanks need to know. */
export interface RoundFacts {
  readonly round: FurtherRound | undefined;
  readonly consignment: Consignment | undefined;
  /** Every blank of the melt that was ever drawn, of the first sample and of later rounds. */
  readonly drawn: readonly Blank[];
  readonly drums: readonly DrumLeft[];
  /** The drums as they came, those sent back as well. */
  readonly own: readonly Drum[];
  /** Pieces of the melt that the account holds at receiving. */
  readonly piecesAtReceiving: number;
}

export async function roundFacts(books: BookReader, melt: string): Promise<RoundFacts> {
  const row = await books.get(melts, melt);
  const drawn = await books.select(blanks, { by: 'byMelt', prefix: [melt] });
  const own = await books.select(drums, { by: 'byMelt', prefix: [melt] });
  const lying = await books.select(balances, { by: 'byMelt', prefix: [melt, 'receiving'] });
  return {
    round: await openFurtherRound(books, melt),
    consignment: row && (await books.get(consignments, row.consignment)),
    drawn,
    own,
    drums: own
      .filter(({ state }) => state !== 'returned')
      .map(({ drum, pieces }) => {
        const taken = drawn.filter((blank) => blank.isDrawn && blank.drum === drum).length;
        return { drum, taken, pieces: Math.max(0, pieces - taken) };
      }),
    piecesAtReceiving: lying.reduce((total, { pieces }) => total + pieces, 0),
  };
}

/** The round that is open, with its consignment; or the refusal that there is none. */
export function openRound(
  melt: string,
  { round, consignment }: RoundFacts,
):
  | { readonly round: FurtherRound; readonly consignment: Consignment }
  | { readonly refusal: Refusal } {
  if (round && consignment) return { round, consignment };
  const refusal = refuse(furtherRefusals, 'FurtherBlanksNotAsked', {
    message: `No further blanks of melt ${melt} are asked for.`,
    field: 'melt',
    figures: { melt },
  });
  return { refusal };
}

/** Refuses to go on with a round whose places have not been drawn. */
export function notDrawn({ melt, round, pieces }: FurtherRound): Refusal {
  return refuse(furtherRefusals, 'FurtherBlanksNotDrawn', {
    message: `The places of the ${pieces} further blanks of melt ${melt} have not been drawn.`,
    field: 'melt',
    figures: { melt, round, pieces },
  });
}

/** The picks of a round where they lie now. */
export function picksOf(facts: RoundFacts, { round }: FurtherRound): readonly Blank[] {
  return facts.drawn.filter(({ further }) => further === round);
}
