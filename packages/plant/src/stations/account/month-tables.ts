import type { MetalBalanceOutput } from '@cupel/calculation';
import { placeTitle } from '../../journal/place.ts';
import type { CsvValue } from '../../tables/csv.ts';
import type { ClosingRow, DifferenceRow } from './books.ts';

const gramsOf = (micrograms: number | null): number | null =>
  micrograms === null ? null : micrograms / 1e6;

export const differenceHeads = [
  'Difference',
  'Form',
  'Shift',
  'Instant (UTC)',
  'Place',
  'Metal',
  'Piece standard',
  'Melt',
  'Pieces',
  'Gross (g)',
  'Fine (g)',
  'Author',
  'Witness',
  'Entry',
  'State',
  'Explanation',
  'Ended in entry',
  'How it ended',
] as const;

/** The differences of a month, one to a line, with people by their full names; negative is missing. */
export const differenceRows = (
  rows: readonly DifferenceRow[],
  nameOf: (person: string) => string,
): readonly (readonly CsvValue[])[] =>
  rows.map((row) => [
    row.difference,
    row.form,
    row.shift,
    row.instant,
    placeTitle(row.place),
    row.metal,
    row.pieceStandard,
    row.melt,
    row.pieces,
    gramsOf(row.grossMicrograms),
    gramsOf(row.fineMicrograms),
    nameOf(row.author),
    nameOf(row.witness),
    row.entry,
    row.state,
    row.explanation,
    row.resolvedEntry,
    row.resolution,
  ]);

export const balanceHeads = [
  'Shift',
  'Closed (UTC)',
  'Entry',
  'Place',
  'Metal',
  'Piece standard',
  'Book (pieces)',
  'Tally (pieces)',
  'Signed (pieces)',
  'Difference (pieces)',
  'Book (g)',
  'Tally (g)',
  'Missing (g)',
  'Moved by estimate (g)',
  'Standard uncertainty (g)',
  'State',
] as const;

/** Grams without the digits below a microgram, which no balance means. */
const toMicrogram = (grams: number | undefined): number | null =>
  grams === undefined ? null : Math.round(grams * 1e6) / 1e6 + 0;

/** Every line of every close of a month; missing grams are positive, as the balance states them. */
export const balanceRows = (closings: readonly ClosingRow[]): readonly (readonly CsvValue[])[] =>
  closings.flatMap((closing) =>
    closing.places.flatMap(({ place, lines }) =>
      lines.map((line) => {
        const balance = line.balance?.output as unknown as MetalBalanceOutput | undefined;
        return [
          closing.shift,
          closing.instant,
          closing.entry,
          placeTitle(place),
          line.metal,
          line.pieceStandard,
          line.piecesBook,
          line.piecesTally,
          line.piecesSigned,
          line.piecesDifference,
          gramsOf(line.grossMicrogramsBook),
          gramsOf(line.grossMicrogramsTally),
          toMicrogram(balance?.unexplainedGrossGrams),
          gramsOf(line.grossMicrogramsEstimated),
          toMicrogram(balance?.standardUncertaintyGrams),
          balance?.state ?? line.balanceMissing,
        ];
      }),
    ),
  );
