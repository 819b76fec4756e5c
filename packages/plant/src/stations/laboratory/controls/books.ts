import { defineBook } from '../../../journal/books.ts';
import type { TitreDetermined } from './titre-bodies.ts';

/** What may be in doubt together with what it was made with. */
export const usedFor = [
  'run',
  'measurement of blanks',
  'hardness',
  'grain size',
  'edge',
  'screening',
  'titrant factor',
  'weighing',
] as const;

export type UsedFor = (typeof usedFor)[number];

/** What a result was made with, by the entry that recorded it. */
export type UseRow = {
  /** A titre stands for the determination of a titrant's factor that a run was computed with. */
  readonly thing: 'reagent-lot' | 'instrument' | 'titre';
  readonly id: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  readonly what: UsedFor;
  /** Empty where no melt was on trial. */
  readonly melt: string;
  /** The run, or the determination of a titrant's factor; null for everything else. */
  readonly assayRun: string | null;
  /** What was examined, as its page of descent names it. */
  readonly of: { readonly thing: string; readonly id: string };
};

export const uses = defineBook<UseRow>({
  name: 'laboratory_use',
  meaning:
    'A result of the laboratory, by the reagent lots, instruments and titres it was made with.',
  key: ['thing', 'id', 'entry'],
});

export type HoldAnswerRow = {
  readonly hold: string;
  /** Entry of what was answered for. */
  readonly entry: number;
  readonly finding: 'stands' | 'set aside';
  readonly reason: string;
  readonly answered: number;
  readonly instant: string;
  readonly author: string;
};

export const holdAnswers = defineBook<HoldAnswerRow>({
  name: 'laboratory_hold_answer',
  meaning: 'What the chief assayer said of a result or weighing that a hold put in doubt.',
  key: ['hold', 'entry'],
});

/** Holds of which everything that they reach was answered for: the docket passes them by. */
export const answeredHolds = defineBook<{ hold: string; entry: number; instant: string }>({
  name: 'laboratory_answered_hold',
  meaning: 'A hold of which everything that it reaches was answered for.',
  key: ['hold'],
});

export type TitreRow = {
  readonly assayRun: string;
  readonly lot: string;
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
  /** Why it counts no longer; null while it does. */
  readonly setAside: string | null;
  readonly body: TitreDetermined;
};

export const titres = defineBook<TitreRow>({
  name: 'laboratory_titre',
  meaning: 'A determination of the factor of a titrant.',
  key: ['assayRun'],
  indexes: { byLot: ['lot', 'entry'] },
});

export const controlBooks = [uses, holdAnswers, answeredHolds, titres] as const;
