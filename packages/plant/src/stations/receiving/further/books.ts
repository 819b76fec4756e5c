import { defineBook } from '../../../journal/books.ts';
import type {
  FurtherBlanksDrawnBody,
  FurtherBlanksTakenBody,
  FurtherPickSubstitutedBody,
} from './bodies.ts';

/** How far a round of further blanks has come. */
const furtherStates = ['asked', 'drawn', 'taken', 'lapsed'] as const;
type FurtherState = (typeof furtherStates)[number];

/** A round of further blanks of a melt, from the asking to the laboratory. */
export type FurtherRound = {
  readonly melt: string;
  readonly round: number;
  readonly consignment: string;
  readonly pieces: number;
  readonly reason: string;
  readonly state: FurtherState;
  /** The entry by which the laboratory asked, and its hash: the seed of the draw. */
  readonly askedEntry: number;
  readonly askedHash: string;
  readonly askedAt: string;
  readonly askedBy: string;
  /** Nothing until the places are drawn. */
  readonly drawn: null | {
    readonly entry: number;
    readonly instant: string;
    readonly seed: string;
    readonly takenBefore: FurtherBlanksDrawnBody['takenBefore'];
    readonly draw: FurtherBlanksDrawnBody['draw'];
    readonly blanks: FurtherBlanksDrawnBody['blanks'];
  };
  readonly substitutions: readonly (Omit<FurtherPickSubstitutedBody, 'melt' | 'consignment'> & {
    readonly entry: number;
  })[];
  /** Nothing until they were taken to the laboratory. */
  readonly taken:
    | null
    | (Pick<
        FurtherBlanksTakenBody,
        'grossMicrograms' | 'blanks' | 'scanned' | 'notScanned' | 'reason'
      > & { readonly entry: number; readonly instant: string });
};

export const furtherRounds = defineBook<FurtherRound>({
  name: 'receiving_further_round',
  meaning: 'Further blanks of a melt that the laboratory asked for, and where they were drawn.',
  key: ['melt', 'round'],
  indexes: { byState: ['state', 'melt', 'round'] },
});

export const furtherBooks = [furtherRounds] as const;
