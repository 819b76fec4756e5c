import type { PortionRow } from '../books.ts';
import type { Recipient } from '../words.ts';

/** A portion as the questions show it: never with its seal. */
export interface ShownPortion extends Omit<PortionRow, 'seal'> {
  readonly pieces: number;
  readonly isOverdue: boolean;
  readonly isInDispute: boolean;
  readonly recipients: readonly Recipient[];
}

interface Balance {
  readonly instrument: string;
  readonly title: string;
}

/** What the question `portions` answers. */
export interface PortionsAnswer {
  readonly day: string;
  readonly portions: readonly ShownPortion[];
}

/** What the question `portion` answers. */
export interface PortionAnswer extends ShownPortion {
  /** How it was sent last; nothing before that. */
  readonly sent: {
    readonly entry: number;
    readonly answerBy: string | null;
    /** True once a report on what was sent stands. */
    readonly isReported: boolean;
  } | null;
  readonly balances: readonly Balance[];
}

/** What the question `melt-portions` answers. */
export interface MeltPortionsAnswer {
  readonly melt: string;
  readonly day: string;
  readonly isDrawn: boolean;
  readonly pieceStandardTitle: string;
  readonly blanks: readonly {
    readonly blank: string;
    /** True for those that a draw chose for assay: they are cut. */
    readonly forAssay: boolean;
    readonly isWhole: boolean;
    readonly canBeSealed: boolean;
    readonly portion: string | null;
  }[];
  /** Nothing for those who count. */
  readonly freeMicrograms: number | null;
  readonly portions: readonly ShownPortion[];
  readonly balances: readonly Balance[];
}
