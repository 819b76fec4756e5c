import type { Instrument } from '../../registers/index.ts';
import type { StrikeLimits } from '../bodies.ts';
import type { DeliveryRow, HoldRow, RejectRow, RunRow, StrikeRow } from '../books.ts';

/** An instrument of the press room. */
export type ShownInstrument = Instrument & {
  /** Why no reading of it counts today; nothing where it may be used. */
  readonly outOfUse: string | null;
};

/** A run as the questions of the press room show one. */
export type RunShown = Omit<RunRow, 'condemned'> & { readonly piecesDeliverable: number };

/** A melt that may be struck, or that lies in the press room. */
export interface MeltAtHand {
  readonly melt: string;
  readonly ruling: string | null;
  readonly metal: string | null;
  readonly pieceStandard: string | null;
  readonly title: string | null;
  readonly isAtReceiving: boolean;
  readonly isInPressRoom: boolean;
  /** Nothing for those who count. */
  readonly piecesAtReceiving: number | null;
  readonly piecesInPressRoom: number | null;
  readonly grossMicrogramsInPressRoom: number | null;
}

/** What the question `press-room-desk` answers. */
export interface PressRoomAnswer {
  readonly melts: readonly MeltAtHand[];
  readonly runsOpen: readonly RunShown[];
  readonly runsClosed: readonly RunShown[];
  readonly holds: readonly HoldRow[];
  readonly instruments: readonly ShownInstrument[];
}

/** What the question `run` answers. */
export interface RunAnswer {
  readonly run: RunShown & { readonly title: string | null };
  readonly limits: StrikeLimits | null;
  readonly strikes: readonly StrikeRow[];
  readonly rejects: readonly RejectRow[];
  readonly deliveries: readonly DeliveryRow[];
  readonly holds: readonly HoldRow[];
}

/** What the question `hold` answers. */
export interface HoldAnswer {
  readonly hold: HoldRow;
  readonly runs: readonly RunShown[];
}
