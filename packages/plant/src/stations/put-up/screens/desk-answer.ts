/** A melt whose pieces lie in put-up, as the desk shows it. */
export interface DeskMelt {
  readonly melt: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly title: string;
  /** Nothing for those who count. */
  readonly piecesHere: number | null;
  readonly piecesLoose: number | null;
  readonly piecesCondemned: number;
  /** Whether enough pieces lie loose for a tube. */
  readonly fillsTube: boolean;
  readonly holds: readonly string[];
  readonly piecesPerTube: number;
  readonly tubesPerBox: number;
}

/** A tube as the desk lists it. */
export interface DeskTube {
  readonly tube: string;
  readonly melt: string;
  readonly pieceStandard: string;
  readonly pieces: number;
  readonly words: string;
  readonly since: string;
  readonly weighings: number;
}

/** What the question `put-up-desk` answers. */
export interface DeskAnswer {
  readonly seesBook: boolean;
  readonly inTransit: readonly {
    readonly delivery: number;
    readonly run: string;
    readonly melt: string;
    readonly sentBy: string;
    readonly since: string;
  }[];
  readonly melts: readonly DeskMelt[];
  readonly stopped: readonly DeskTube[];
  readonly weighAgain: readonly DeskTube[];
  readonly proved: readonly DeskTube[];
  readonly boxes: readonly {
    readonly box: string;
    readonly pieceStandard: string;
    readonly pieces: number;
    readonly tubes: number;
    readonly netMicrograms: number;
    readonly seal: string;
    readonly since: string;
  }[];
  readonly balances: readonly {
    readonly instrument: string;
    readonly title: string;
    readonly divisionGrams: number;
    readonly calibrationDue: string;
  }[];
}
