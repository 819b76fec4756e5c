import { defineBook } from '../../../journal/books.ts';

/** What a run or measurement was made with, by the entry that recorded it. */
export type UseRow = {
  readonly thing: 'reagent-lot' | 'instrument';
  readonly id: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly melt: string;
  /** Null for a measurement of blanks. */
  readonly assayRun: string | null;
};

export const uses = defineBook<UseRow>({
  name: 'laboratory_use',
  meaning:
    'A run or a measurement of blanks, by the reagent lots and instruments it was made with.',
  key: ['thing', 'id', 'entry'],
});

export type HoldAnswerRow = {
  readonly hold: string;
  /** Entry of the run or measurement that was answered for. */
  readonly entry: number;
  readonly finding: 'stands' | 'set aside';
  readonly reason: string;
  readonly answered: number;
  readonly instant: string;
  readonly author: string;
};

export const holdAnswers = defineBook<HoldAnswerRow>({
  name: 'laboratory_hold_answer',
  meaning: 'What the chief assayer said of a run or measurement that a hold put in doubt.',
  key: ['hold', 'entry'],
});

export type TitreRow = {
  readonly assayRun: string;
  readonly lot: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
};

export const titres = defineBook<TitreRow>({
  name: 'laboratory_titre',
  meaning: 'A determination of the factor of a titrant.',
  key: ['assayRun'],
});

export const controlBooks = [uses, holdAnswers, titres] as const;
