import { defineBook } from '../../journal/books.ts';
import type { Reading } from '../../journal/reading.ts';
import type { DefectFamily, Face, HeldRange } from './bodies.ts';

/** Where a run stands. */
export type RunState = 'waiting for first strike' | 'running' | 'stopped' | 'closed';

export type RunRow = {
  readonly run: string;
  readonly press: string;
  readonly obverse: string;
  readonly reverse: string;
  readonly collar: string;
  readonly melt: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly state: RunState;
  readonly counterBefore: number;
  readonly counterAfter: number | null;
  readonly openedEntry: number;
  readonly openedInstant: string;
  readonly openedBy: string;
  readonly openedWitness: string | null;
  readonly closedInstant: string | null;
  readonly closedShift: string | null;
  /** Strike examined last, 0 before the first. */
  readonly lastStrike: number;
  readonly lastOccasion: string | null;
  /** Whether a first strike of the run was approved. */
  readonly firstApproved: boolean;
  readonly lastApprovedStrike: number;
  /** Pieces up to this strike stand before an approved strike, or were released by a ruling. */
  readonly judgedUpTo: number;
  /** Strikes ruled to be scrap. */
  readonly condemned: readonly { readonly strikeFrom: number; readonly strikeTo: number }[];
  readonly piecesDelivered: number;
  readonly piecesRejected: number;
};

/** Runs, open and closed. */
export const runs = defineBook<RunRow>({
  name: 'press_room_run',
  meaning: 'The time of a die pair in a press on one melt, and where it stands.',
  key: ['run'],
  indexes: {
    byState: ['state', 'openedEntry'],
    byMelt: ['melt', 'openedEntry'],
    byPress: ['press', 'openedEntry'],
    byOpening: ['openedEntry'],
  },
});

export type StrikeRow = {
  readonly run: string;
  readonly strikeNumber: number;
  readonly occasion: string;
  readonly verdict: string;
  readonly entry: number;
  readonly instant: string;
  readonly shift: string;
  readonly author: string;
  readonly mass: Reading;
  readonly diameter: Reading;
  readonly thickness: Reading;
  readonly outside: readonly string[];
  readonly photographs: readonly { readonly face: Face; readonly sha256: string }[];
  readonly defect: { readonly family: DefectFamily; readonly words: string } | null;
};

/** Strikes that were examined. */
export const strikes = defineBook<StrikeRow>({
  name: 'press_room_strike',
  meaning: 'A piece of a run that was examined: first, roving or last strike.',
  key: ['run', 'strikeNumber'],
});

export type TransferRow = {
  readonly entry: number;
  readonly run: string;
  readonly melt: string;
  readonly pieces: number;
  readonly grossMicrograms: number;
  readonly instrument: string | null;
  readonly instant: string;
  readonly author: string;
  readonly witness: string | null;
};

export type DeliveryRow = TransferRow & {
  readonly obverse: string;
  readonly reverse: string;
  readonly collar: string;
};

/** Pieces that were sent to put-up. */
export const deliveries = defineBook<DeliveryRow>({
  name: 'press_room_delivery',
  meaning: 'Pieces of a run that were sent to put-up.',
  key: ['entry'],
  indexes: { byMelt: ['melt', 'entry'], byRun: ['run', 'entry'] },
});

export type RejectRow = TransferRow & { readonly family: DefectFamily };

/** Pieces that went to the scrap. */
export const rejects = defineBook<RejectRow>({
  name: 'press_room_reject',
  meaning: 'Pieces of a run that went to the scrap, by the family of their defect.',
  key: ['entry'],
  indexes: { byRun: ['run', 'entry'] },
});

export type MeltRow = {
  readonly melt: string;
  readonly metal: string;
  readonly pieceStandard: string;
  readonly piecesTaken: number;
  readonly grossMicrogramsTaken: number;
  readonly lastTakenInstant: string;
};

/** Blanks taken from receiving, by melt. */
export const meltsTaken = defineBook<MeltRow>({
  name: 'press_room_melt',
  meaning: 'Blanks of a melt that came to the press room.',
  key: ['melt'],
});

export type HoldRow = {
  readonly hold: string;
  readonly state: 'open' | 'release' | 'scrap';
  readonly run: string;
  readonly press: string;
  readonly melt: string;
  readonly strikeNumber: number;
  readonly family: DefectFamily;
  readonly words: string;
  readonly scope: string;
  readonly shift: string;
  readonly held: readonly HeldRange[];
  readonly pieces: number;
  readonly openedEntry: number;
  readonly openedInstant: string;
  readonly openedBy: string;
  readonly reason: string | null;
  readonly resolvedInstant: string | null;
  readonly resolvedBy: string | null;
};

/** Holds, open and resolved. */
export const holds = defineBook<HoldRow>({
  name: 'press_room_hold',
  meaning: 'Pieces held after a fault was seen, and what was ruled about them.',
  key: ['hold'],
  indexes: { byState: ['state', 'openedEntry'] },
});

export type HeldRunRow = HeldRange & {
  readonly hold: string;
  readonly family: DefectFamily;
  readonly state: 'open' | 'release' | 'scrap';
  /** Held pieces of that run that had gone to put-up when they were ruled to be scrap. */
  readonly piecesDelivered: number;
};

/** Which runs a hold covers. */
export const heldRuns = defineBook<HeldRunRow>({
  name: 'press_room_held_run',
  meaning: 'The strikes of one run that a hold covers.',
  key: ['run', 'hold'],
  indexes: { byMelt: ['melt', 'state'] },
});

export type PressRow = {
  readonly press: string;
  readonly openRun: string | null;
  readonly counter: number;
};

/** Presses that have run. */
export const presses = defineBook<PressRow>({
  name: 'press_room_press',
  meaning: 'Counter and open run of a press.',
  key: ['press'],
});

export type DieRow = {
  readonly die: string;
  readonly openRun: string | null;
  readonly runs: number;
  readonly strokes: number;
};

/** Dies that have struck. */
export const diesUsed = defineBook<DieRow>({
  name: 'press_room_die',
  meaning: 'Strokes that a die has made in closed runs, and the run that it is in.',
  key: ['die'],
});

export const pressRoomBooks = [
  runs,
  strikes,
  deliveries,
  rejects,
  meltsTaken,
  holds,
  heldRuns,
  presses,
  diesUsed,
] as const;
