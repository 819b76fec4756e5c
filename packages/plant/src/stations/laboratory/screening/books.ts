import { defineBook } from '../../../journal/books.ts';
import type { Recorded } from '../books.ts';
import type { BlankScreenedBody, ScreeningAnsweredBody } from './bodies.ts';

export type ScreeningRow = BlankScreenedBody &
  Recorded & {
    /** Open: it deviates and waits for the chief assayer. Set aside: its instrument was wrong. */
    readonly state: 'open' | 'answered' | 'no doubt' | 'set aside';
    readonly answered: (ScreeningAnsweredBody & Recorded) | null;
  };

export const screenings = defineBook<ScreeningRow>({
  name: 'laboratory_screening',
  meaning: 'A blank that was screened, and what was found about a deviation.',
  key: ['melt', 'entry'],
  indexes: { byState: ['state', 'entry'] },
});

export const screeningBooks = [screenings] as const;
