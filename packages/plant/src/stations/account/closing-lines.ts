import type { MetalBalanceInput, MetalBalanceOutput } from '@cupel/calculation';
import { calculate } from '../../journal/calculated.ts';
import type { Metal } from '../../journal/place.ts';
import type { ClosingLine, ClosingPlace } from './bodies.ts';
import type { TallyRow } from './books.ts';
import { type Comparison, compareTally } from './comparison.ts';
import type { Period, PlacePeriod } from './period.ts';
import type { Scales } from './scales.ts';
import { shiftBalanceInput } from './shift-balance.ts';

interface Closing {
  readonly place: PlacePeriod;
  readonly period: Period;
  readonly scales: Scales;
  /** Number of the entry that closes the shift. */
  readonly entry: number;
}

interface Opening {
  readonly pieces: number;
  readonly micrograms: number;
  /** True when a balance says so, false when only the book does. */
  readonly measured: boolean;
}

/** What lay there at the beginning of the period: as measured at the tally before, where it was. */
function openingOf(closing: Closing, pieceStandard: string): Opening {
  const before = closing.period.closing?.places
    .find((one) => one.place === closing.place.place)
    ?.lines.find((one) => one.pieceStandard === pieceStandard);
  const measured = before?.grossMicrogramsTally ?? null;
  return {
    pieces: before?.piecesTally ?? 0,
    micrograms: measured ?? before?.grossMicrogramsBook ?? 0,
    measured: measured !== null,
  };
}

function balanceInput(closing: Closing, line: Comparison): MetalBalanceInput | string {
  const { place, period, scales } = closing;
  const tally = place.tally as TallyRow;
  const found = tally.lines.find((one) => one.pieceStandard === line.pieceStandard);
  if (!found || line.grossMicrogramsTally === null) return 'the tally gives no mass';
  const opening = openingOf(closing, line.pieceStandard);
  const signedEntries = new Set(period.signed.map((row) => row.entry));
  const moved = place.movements.filter(
    (movement) => movement.pieceStandard === line.pieceStandard && movement.entry <= tally.tally,
  );
  return shiftBalanceInput({
    place: place.place,
    pieceStandard: line.pieceStandard,
    finenessPartsPerMillion: found.finenessDeclaredPartsPerMillion,
    pieceMassGrams: (scales.massMilligrams.get(line.pieceStandard) ?? 0) / 1000,
    openingPieces: opening.pieces,
    endingPieces: line.piecesTally,
    openingMicrograms: opening.micrograms,
    endingMicrograms: line.grossMicrogramsTally,
    endingWeighings: Math.max(1, tally.racks?.length ?? 1),
    // A signed difference moves no metal; it belongs only to a mass that begins with the book.
    movements: moved.filter((movement) => !signedEntries.has(movement.entry)),
    signed: opening.measured ? [] : moved.filter((movement) => signedEntries.has(movement.entry)),
    tallyScale: found.instrument ? scales.byInstrument.get(found.instrument) : undefined,
    scaleByPlace: scales.byPlace,
  });
}

function estimatedMicrograms(closing: Closing, pieceStandard: string): number {
  return closing.place.movements
    .filter((movement) => movement.estimated && movement.pieceStandard === pieceStandard)
    .reduce((total, movement) => total + movement.grossMicrograms, 0);
}

/** Whether grams differ by more than the balances explain, beside what two people have signed for. */
function isBeyondAction(balance: MetalBalanceOutput, line: Comparison): boolean {
  const unsigned = balance.unexplainedGrossGrams + line.grossMicrogramsSigned / 1e6;
  return Math.abs(unsigned) > balance.actLimitGrams;
}

function closingLine(closing: Closing, line: Comparison, index: number): ClosingLine {
  const input = balanceInput(closing, line);
  const balance =
    typeof input === 'string' ? null : calculate<MetalBalanceOutput>('metal-balance', input);
  return {
    ...line,
    metal: line.metal as Metal,
    grossMicrogramsEstimated: estimatedMicrograms(closing, line.pieceStandard),
    balance: (balance?.calculated ?? null) as ClosingLine['balance'],
    balanceMissing: typeof input === 'string' ? input : null,
    gramDifference:
      balance && isBeyondAction(balance.output, line)
        ? `G-${closing.entry}-${closing.place.place}-${index + 1}`
        : null,
  };
}

/** What the close of a shift says of one place. */
export function closingPlace(closing: Closing): ClosingPlace {
  const { place, period } = closing;
  const tally = place.tally as TallyRow;
  return {
    place: place.place,
    tally: tally.tally,
    tallyAuthor: tally.author,
    lines: compareTally(tally, period.signed).map((line, index) =>
      closingLine(closing, line, index),
    ),
  };
}
