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

const pieceMassOf = ({ scales }: Closing, pieceStandard: string): number =>
  (scales.massMilligrams.get(pieceStandard) ?? 0) / 1000;

function balanceInput(closing: Closing, line: Comparison): MetalBalanceInput | string {
  const { place, period, scales } = closing;
  const tally = place.tally as TallyRow;
  const found = tally.lines.find((one) => one.pieceStandard === line.pieceStandard);
  if (!found || line.grossMicrogramsTally === null) return 'the tally gives no mass';
  const opening = openingOf(closing, line.pieceStandard);
  const signedEntries = new Set(period.signed.map((row) => row.entry));
  // What was estimated is told apart: an estimate must not make the weighed metal come out.
  const moved = place.movements.filter(
    ({ pieceStandard, entry, estimated }) =>
      pieceStandard === line.pieceStandard && entry <= tally.tally && !estimated,
  );
  return shiftBalanceInput({
    place: place.place,
    pieceStandard: line.pieceStandard,
    finenessPartsPerMillion: found.finenessDeclaredPartsPerMillion,
    pieceMassGrams: pieceMassOf(closing, line.pieceStandard),
    openingPieces: opening.pieces,
    endingPieces: line.piecesTally,
    openingMicrograms: opening.micrograms,
    endingMicrograms: line.grossMicrogramsTally,
    endingWeighings: Math.max(1, tally.racks?.length ?? 1),
    // A signed difference moves no metal; it belongs only to a mass that begins with the book.
    movements: moved.filter((movement) => !signedEntries.has(movement.entry)),
    signed: opening.measured ? [] : moved.filter((movement) => signedEntries.has(movement.entry)),
    tallyScale: found.instrument ? scales.byInstrument.get(found.instrument) : undefined,
    scaleByInstrument: scales.byInstrument,
    scaleByPlace: scales.byPlace,
  });
}

/** What moved at the place by estimate, and what of it left more than came. */
interface Estimated {
  readonly micrograms: number;
  readonly netOutMicrograms: number;
}

function estimatedAt({ place }: Closing, pieceStandard: string): Estimated {
  const rows = place.movements.filter(
    (movement) => movement.estimated && movement.pieceStandard === pieceStandard,
  );
  const sum = (of: readonly { grossMicrograms: number }[]) =>
    of.reduce((total, one) => total + one.grossMicrograms, 0);
  const out = sum(rows.filter((row) => row.from === place.place));
  return { micrograms: sum(rows), netOutMicrograms: 2 * out - sum(rows) };
}

/**
 * Whether grams differ by more than the balances explain, beside what two people have signed for.
 * Estimates of less than half a piece may account for grams, so that the dust of a laboratory asks
 * for no signature in every shift; no estimate accounts for a piece.
 */
function isBeyondAction(
  balance: MetalBalanceOutput,
  line: Comparison,
  of: { readonly estimated: Estimated; readonly pieceMassGrams: number },
): boolean {
  const unsigned = balance.unexplainedGrossGrams + line.grossMicrogramsSigned / 1e6;
  if (Math.abs(unsigned) <= balance.actLimitGrams) return false;
  const estimatedGrams = of.estimated.netOutMicrograms / 1e6;
  const isCovered = Math.abs(unsigned - estimatedGrams) <= balance.actLimitGrams;
  return !isCovered || Math.abs(estimatedGrams) >= of.pieceMassGrams / 2;
}

function closingLine(closing: Closing, line: Comparison, index: number): ClosingLine {
  const input = balanceInput(closing, line);
  const balance =
    typeof input === 'string' ? null : calculate<MetalBalanceOutput>('metal-balance', input);
  const estimated = estimatedAt(closing, line.pieceStandard);
  const pieceMassGrams = pieceMassOf(closing, line.pieceStandard);
  return {
    ...line,
    metal: line.metal as Metal,
    grossMicrogramsEstimated: estimated.micrograms,
    balance: (balance?.calculated ?? null) as ClosingLine['balance'],
    balanceMissing: typeof input === 'string' ? input : null,
    gramDifference:
      balance && isBeyondAction(balance.output, line, { estimated, pieceMassGrams })
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
