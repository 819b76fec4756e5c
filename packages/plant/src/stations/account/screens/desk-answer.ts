import type { DifferenceRow } from '../books.ts';
import type { Comparison } from '../comparison.ts';

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
  } | null;
  readonly places: readonly DeskPlace[];
  readonly openDifferences: readonly DifferenceRow[] | null;
}

/** A place as people say it. */
export const placeInWords = (place: string): string =>
  place === 'put-up' ? 'put-up' : place.replaceAll('-', ' ');
