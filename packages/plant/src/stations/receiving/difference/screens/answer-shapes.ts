import type { Difference, DifferenceLine } from '../books.ts';
import type { ClaimTerms } from '../deadlines.ts';

/** A document as lists show it. */
export interface ShownDifference {
  readonly difference: string;
  readonly consignment: string;
  readonly supplierName: string;
  readonly state: Difference['state'];
  readonly since: string;
  readonly raisedOn: string;
  readonly answerDue: string;
  readonly isOverdue: boolean;
  readonly isLate: boolean;
  readonly lines: number;
  readonly differencePieces: number;
  readonly differenceMicrograms: number;
  readonly answer: string | null;
  readonly agreedPieces: number | null;
  readonly agreedMicrograms: number | null;
}

/** What the question `differences` answers. */
export interface DifferencesAnswer {
  readonly day: string;
  readonly open: readonly {
    readonly consignment: string;
    readonly supplierName: string;
    readonly document: string;
    readonly isReady: boolean;
    readonly since: string;
    readonly lines: readonly DifferenceLine[];
  }[];
  readonly documents: readonly ShownDifference[];
}

/** What the question `consignment-differences` answers. */
export interface ConsignmentDifferencesAnswer {
  readonly consignment: string;
  readonly supplierName: string;
  readonly pieceStandardTitle: string;
  readonly document: string;
  readonly lines: readonly DifferenceLine[];
  readonly documents: readonly ShownDifference[];
  readonly terms: ClaimTerms;
}

/** What the question `difference` answers. */
export interface DifferenceAnswer extends Difference {
  readonly supplierName: string;
  readonly isOverdue: boolean;
  readonly names: Readonly<Record<string, string>>;
}
