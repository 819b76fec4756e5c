import type { DifferenceRow } from '../books.ts';
import type { Comparison } from '../comparison.ts';
import type { RackAtPlace } from '../racks/rack-answer.ts';

export { placeTitle } from '../../../journal/place.ts';

/** A place as the balance desk shows it. */
export interface DeskPlace {
  readonly place: string;
  readonly needsTally: boolean;
  readonly standards: readonly {
    readonly pieceStandard: string;
    readonly title: string;
    readonly metal: string;
  }[];
  readonly tally: {
    readonly entry: number;
    readonly instant: string;
    readonly person: string;
    readonly name: string;
    readonly movedSince: boolean;
  } | null;
  /** Nothing for those who count, so that they count. */
  readonly standing:
    | readonly {
        readonly pieceStandard: string;
        readonly metal: string;
        readonly pieces: number;
        readonly grossMicrograms: number;
        readonly fineMicrograms: number;
      }[]
    | null;
  readonly comparison: readonly Comparison[] | null;
  readonly racks: readonly RackAtPlace[];
}

/** What the question `balance-desk` answers. */
export interface DeskAnswer {
  readonly shift: string;
  readonly openShifts: readonly string[];
  readonly seesBook: boolean;
  readonly lastClose: {
    readonly shift: string;
    readonly entry: number;
    readonly instant: string;
    readonly lastEntry: number;
  } | null;
  readonly places: readonly DeskPlace[];
  readonly openDifferences: readonly DifferenceRow[] | null;
}

/** What the question `differences` answers. */
export interface DifferencesAnswer {
  /** Without it no difference is told. */
  readonly seesBook: boolean;
  readonly differences: readonly DifferenceRow[];
}

/** Lines of a place whose pieces differ. */
export const differingLines = (place: DeskPlace): readonly Comparison[] =>
  (place.comparison ?? []).filter(({ piecesDifference }) => piecesDifference !== 0);

/** Pieces missing or too many, in words. */
export function differenceWords(pieces: number): string {
  const count = Math.abs(pieces);
  const things = count === 1 ? 'piece' : 'pieces';
  return pieces < 0 ? `${count} ${things} missing` : `${count} ${things} too many`;
}
