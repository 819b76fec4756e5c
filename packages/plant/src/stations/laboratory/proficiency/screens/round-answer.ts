import type { Drawing } from '../../../../workbench/index.ts';
import type { RoundRow } from '../books.ts';

/** A round as the list shows it. */
export type RoundLine = Omit<RoundRow, 'scores' | 'others' | 'answered'> & {
  readonly participants: number;
  readonly open: readonly string[];
  readonly finding: string | null;
};

/** What the question `proficiency-rounds` answers, one for each characteristic. */
export interface HistoryAnswer {
  readonly characteristic: string;
  readonly words: string;
  readonly drawings: readonly Drawing[];
  readonly rounds: readonly RoundLine[];
}

/** What the question `proficiency-round` answers. */
export type RoundAnswer = RoundRow & {
  readonly open: readonly string[];
  readonly drawings: readonly Drawing[];
  readonly historyWords: string;
  readonly historyDrawings: readonly Drawing[];
};
