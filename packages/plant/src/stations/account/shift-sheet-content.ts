import { type MetalBalanceOutput, roundNumberText } from '@cupel/calculation';
import { placeTitle } from '../../journal/place.ts';
import type { ClosingLine } from './bodies.ts';
import type { ClosingRow } from './books.ts';
import type { HandOverRow } from './books-periods.ts';
import type { ShiftFlow } from './shift-flows.ts';

/** What a shift sheet is made of. */
interface ShiftSheetParts {
  readonly plantTitle: string;
  readonly timeZone: string;
  readonly closing: ClosingRow;
  readonly entryHash: string | undefined;
  readonly handOver: HandOverRow | undefined;
  readonly flows: readonly ShiftFlow[];
  /** A person's name by id. */
  readonly nameOf: (person: string) => string;
}

const thinSpace = '\u2009';

/** A number with a true minus and thin-spaced thousands, rounded half to even. */
function printed(value: number, decimals: number): string {
  const text = roundNumberText(Math.abs(value), decimals, 'half-even');
  const [whole = '0', fraction] = text.split('.');
  const spaced = whole.length <= 4 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, thinSpace);
  const size = fraction === undefined ? spaced : `${spaced}.${fraction}`;
  return value < 0 && /[1-9]/.test(text) ? `−${size}` : size;
}

const grams = (micrograms: number | null, decimals: number): string =>
  micrograms === null ? '–' : printed(micrograms / 1e6, decimals);

/** Day and time where the plant stands, as `2026-11-24 14:05`. */
function localTime(instant: string, timeZone: string): string {
  const format = new Intl.DateTimeFormat('sv-SE', {
    timeZone,
    dateStyle: 'short',
    timeStyle: 'short',
  });
  return format.format(new Date(instant));
}

function balanceWords(line: ClosingLine): string {
  if (!line.balance) return line.balanceMissing ?? '–';
  const { unexplainedGrossGrams, standardUncertaintyGrams, state } = line.balance
    .output as unknown as MetalBalanceOutput;
  const found = `${printed(unexplainedGrossGrams, 3)} ± ${printed(standardUncertaintyGrams, 3)}`;
  return state === 'inside' ? found : `${found}, ${state}`;
}

const isEmpty = (line: ClosingLine): boolean =>
  line.piecesBook === 0 && line.piecesTally === 0 && line.grossMicrogramsBook === 0;

function handOverWords(handOver: HandOverRow | undefined, parts: ShiftSheetParts) {
  if (!handOver) return null;
  const { nameOf, timeZone } = parts;
  return {
    leaving: nameOf(handOver.leaving),
    arriving: nameOf(handOver.arriving),
    at: localTime(handOver.instant, timeZone),
    arrivingShift: handOver.arrivingShift,
    remark: handOver.remark,
    entry: String(handOver.entry),
  };
}

/** A shift sheet in words and figures, as it is printed. */
export function shiftSheetContent(parts: ShiftSheetParts) {
  const { closing, flows, nameOf, timeZone } = parts;
  return {
    plant: parts.plantTitle,
    shift: closing.shift,
    date: closing.instant.slice(0, 10).split('-').map(Number),
    closedAt: localTime(closing.instant, timeZone),
    timeZone,
    author: nameOf(closing.author),
    witness: nameOf(closing.witness),
    entry: String(closing.entry),
    entryHash: parts.entryHash ?? null,
    covers: `${closing.firstEntry} to ${closing.lastEntry}`,
    lines: closing.places.flatMap(({ place, tallyAuthor, lines }) =>
      lines
        .filter((line) => !isEmpty(line))
        .map((line) => ({
          place: placeTitle(place),
          standard: line.pieceStandard,
          countedBy: nameOf(tallyAuthor),
          book: printed(line.piecesBook, 0),
          tally: printed(line.piecesTally, 0),
          signed: line.piecesSigned === 0 ? '' : printed(line.piecesSigned, 0),
          difference: printed(line.piecesDifference, 0),
          grossBook: grams(line.grossMicrogramsBook, 2),
          grossTally: grams(line.grossMicrogramsTally, 2),
          unexplained: balanceWords(line),
          estimated:
            line.grossMicrogramsEstimated === 0 ? '' : grams(line.grossMicrogramsEstimated, 3),
          gramDifference: line.gramDifference ?? '',
        })),
    ),
    flows: flows.map((flow) => ({
      from: placeTitle(flow.from),
      to: flow.estimated ? `${placeTitle(flow.to)}, estimated` : placeTitle(flow.to),
      standard: flow.pieceStandard,
      pieces: printed(flow.pieces, 0),
      gross: grams(flow.grossMicrograms, 3),
      fine: grams(flow.fineMicrograms, 3),
    })),
    handOver: handOverWords(parts.handOver, parts),
  };
}

export type ShiftSheetContent = ReturnType<typeof shiftSheetContent>;
