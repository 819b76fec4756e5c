import { defineBook } from '../../../journal/books.ts';
import type {
  DifferenceAnsweredBody,
  DifferenceFigures,
  DifferenceRaisedBody,
  DifferenceSettledBody,
} from './bodies.ts';

/** A drum or melt that differs from what was announced, as it stands now. */
export type DifferenceLine = Omit<DifferenceFigures, 'causes'> & {
  /** Empty where it was looked into and nothing differs any more. */
  readonly causes: DifferenceFigures['causes'];
  readonly consignment: string;
  readonly supplier: string;
  readonly state: 'none' | 'open' | 'raised' | 'settled';
  /** UTC: when it came to stand so. */
  readonly since: string;
  /** The document in which it stands. */
  readonly raisedIn: string | null;
  /** Documents in which it stood before its figures changed. */
  readonly earlier: readonly string[];
};

export const differenceLines = defineBook<DifferenceLine>({
  name: 'receiving_difference_line',
  meaning: 'A drum or melt that differs from what its supplier announced, with the figures.',
  key: ['thing', 'id'],
  indexes: {
    byConsignment: ['consignment', 'thing', 'id'],
    byState: ['state', 'consignment', 'thing', 'id'],
  },
});

type Told = { readonly entry: number; readonly instant: string; readonly author: string };

/** A difference that was raised with the supplier as a document. */
export type Difference = DifferenceRaisedBody & {
  readonly state: 'raised' | 'answered' | 'settled';
  readonly since: string;
  readonly entry: number;
  readonly raisedAt: string;
  readonly author: string;
  readonly witness: string;
  /** Oldest first. */
  readonly answers: readonly (Omit<DifferenceAnsweredBody, 'difference'> & Told)[];
  readonly settlement:
    | (Omit<DifferenceSettledBody, 'difference'> & Told & { readonly witness: string })
    | null;
};

export const differences = defineBook<Difference>({
  name: 'receiving_difference',
  meaning: 'A difference with a supplier as a numbered document, from raised to settled.',
  key: ['difference'],
  indexes: {
    byState: ['state', 'number'],
    byConsignment: ['consignment', 'number'],
    byNumber: ['number'],
    bySupplier: ['supplier', 'number'],
  },
});

export const differenceBooks = [differenceLines, differences] as const;
