import type { WalkedDrum } from '../../pick-walk.ts';
import type { FurtherRound } from '../books.ts';

/** What the question `further-blanks` answers. */
export interface FurtherAnswer {
  readonly melt: string;
  readonly consignment: string;
  readonly supplier: string;
  readonly pieceStandardTitle: string;
  /** The newest round; the ones before it are done. */
  readonly round: FurtherRound;
  readonly earlier: readonly FurtherRound[];
  readonly walkWords: string;
  readonly drums: readonly WalkedDrum[];
}
