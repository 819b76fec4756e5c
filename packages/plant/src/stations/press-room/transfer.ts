import type { BookReader } from '../../journal/books.ts';
import { type Reading, readingMicrograms } from '../../journal/reading.ts';
import type { Circumstances } from '../../journal/station.ts';
import { type PieceStandard, pieceStandardOf } from '../registers/index.ts';
import type { RunRow } from './books.ts';
import { type NamedInstrument, namedInstrument } from './instrument-check.ts';
import { runOf } from './queries.ts';

/** What is known about a run out of which pieces leave. */
export interface TransferFacts {
  readonly run: RunRow | undefined;
  readonly standard: PieceStandard | undefined;
  readonly balance: NamedInstrument;
}

/** Looks up the run, its standard and the balance. */
export async function transferFacts(
  books: BookReader,
  input: { run: string; instrument: string },
  { instant }: Circumstances,
): Promise<TransferFacts> {
  const run = await runOf(books, input.run);
  return {
    run,
    standard: run && (await pieceStandardOf(books, run.pieceStandard)),
    balance: await namedInstrument(books, input.instrument, instant),
  };
}

/** What an entry says of the pieces that leave. */
export function piecesMoved(
  input: { pieces: number; gross: Reading },
  of: { run: RunRow; standard: PieceStandard },
) {
  return {
    melt: of.run.melt,
    metal: of.standard.metal,
    pieceStandard: of.standard.pieceStandard,
    finenessDeclaredPartsPerMillion: of.standard.finenessDeclaredPartsPerMillion,
    pieces: input.pieces,
    gross: input.gross,
    grossMicrograms: readingMicrograms(input.gross),
  };
}
