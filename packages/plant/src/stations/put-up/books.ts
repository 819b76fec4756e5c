import { defineBook } from '../../journal/books.ts';
import type { Calculated } from '../../journal/calculated.ts';
import type { Metal } from '../../journal/place.ts';
import type { Reading } from '../../journal/reading.ts';
import type { BoxCheck, MeltInBox, ReferenceMean, TubeInBox, TubeVerdict } from './bodies.ts';

export type AcceptanceRow = {
  readonly delivery: number;
  readonly entry: number;
  readonly melt: string;
  readonly pieces: number;
  readonly instant: string;
  readonly author: string;
};

/** Deliveries of the press room that have come to put-up. */
export const acceptances = defineBook<AcceptanceRow>({
  name: 'put_up_acceptance',
  meaning: 'A delivery of the press room that put-up counted and took over.',
  key: ['delivery'],
});

/** Where a tube stands. */
export type TubeState = TubeVerdict | 'open' | 'packed';

/** One weighing of the present filling. */
export type TubeReading = {
  readonly entry: number;
  readonly instrument: string;
  readonly isTareWeighed: boolean;
  readonly grossMicrograms: number;
  readonly netMicrograms: number;
};

export type TubeRow = {
  readonly tube: string;
  readonly filling: number;
  readonly state: TubeState;
  readonly melt: string;
  readonly metal: Metal;
  readonly pieceStandard: string;
  readonly finenessDeclaredPartsPerMillion: number;
  readonly pieces: number;
  /** Weighings of the present filling, oldest first; none while the tube is open. */
  readonly readings: readonly TubeReading[];
  readonly runs: readonly string[];
  readonly words: string;
  readonly box: string | null;
  /** Since when it is in this state. */
  readonly since: string;
  readonly entry: number;
};

/** Tubes. */
export const tubes = defineBook<TubeRow>({
  name: 'put_up_tube',
  meaning: 'A tube, its present filling and what its weighings say.',
  key: ['tube'],
  indexes: { byState: ['state', 'since', 'tube'], byMelt: ['melt', 'state', 'tube'] },
});

export type WeighingRow = {
  readonly tube: string;
  readonly entry: number;
  readonly filling: number;
  readonly melt: string;
  readonly pieces: number;
  readonly instant: string;
  readonly author: string;
  readonly instrument: string;
  readonly gross: Reading;
  readonly tare: Reading | null;
  readonly tareMicrograms: number;
  readonly netMicrograms: number;
  readonly reference: ReferenceMean;
  readonly count: Calculated;
  readonly state: TubeVerdict;
};

/** Every weighing of every tube. */
export const weighings = defineBook<WeighingRow>({
  name: 'put_up_weighing',
  meaning: 'One weighing of a closed tube and the count that it gives.',
  key: ['tube', 'entry'],
});

export type OpeningRow = {
  readonly tube: string;
  readonly entry: number;
  readonly filling: number;
  readonly melt: string;
  readonly piecesBooked: number;
  readonly piecesFound: number;
  readonly stateBefore: TubeVerdict;
  readonly instant: string;
  readonly author: string;
  readonly witness: string | null;
};

/** Tubes that were opened and counted. */
export const openings = defineBook<OpeningRow>({
  name: 'put_up_opening',
  meaning: 'A tube that two people opened, and the pieces they counted in it.',
  key: ['tube', 'entry'],
});

export type BoxRow = {
  readonly box: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly witness: string | null;
  readonly instrument: string;
  readonly seal: string;
  readonly metal: Metal;
  readonly pieceStandard: string;
  readonly finenessDeclaredPartsPerMillion: number;
  readonly tubes: readonly TubeInBox[];
  readonly melts: readonly MeltInBox[];
  readonly pieces: number;
  readonly netMicrograms: number;
  readonly fineMicrograms: number;
  readonly gross: Reading;
  readonly grossMicrograms: number;
  readonly tare: Reading | null;
  readonly tareMicrograms: number;
  readonly check: BoxCheck;
};

/** Sealed boxes. */
export const boxes = defineBook<BoxRow>({
  name: 'put_up_box',
  meaning: 'A sealed box with its tubes, masses and seal.',
  key: ['box'],
  indexes: { byEntry: ['entry'] },
});

/** Which boxes hold pieces of a melt. */
export const boxesByMelt = defineBook<{ melt: string; box: string; pieces: number }>({
  name: 'put_up_box_melt',
  meaning: 'A box that holds pieces of a melt, and how many.',
  key: ['melt', 'box'],
});

export type MeltRow = {
  readonly melt: string;
  readonly piecesInTubes: number;
  readonly piecesPacked: number;
  readonly piecesSetAside: number;
  readonly piecesScrapped: number;
};

/** What became of the pieces of a melt in put-up. */
export const meltsInPutUp = defineBook<MeltRow>({
  name: 'put_up_melt',
  meaning: 'Pieces of a melt in tubes, packed, set aside and scrapped.',
  key: ['melt'],
});

export const putUpBooks = [
  acceptances,
  tubes,
  weighings,
  openings,
  boxes,
  boxesByMelt,
  meltsInPutUp,
] as const;
