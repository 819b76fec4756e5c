import { defineBook } from '../../journal/books.ts';
import type {
  CupellationRecorded,
  Determination,
  DifferenceRecorded,
  Measurement,
  MeltReturned,
  MeltRuled,
  PhysicalState,
  ResultSigned,
  Ruling,
} from './bodies.ts';
import type { ImpurityState } from './impurities/check.ts';
import type { Stage } from './stage.ts';
import type { TitrationRecorded } from './titration/bodies.ts';

/** Who recorded something, when, in which entry. */
export type Recorded = {
  readonly entry: number;
  readonly instant: string;
  readonly author: string;
};

export type TrialRow = {
  readonly melt: string;
  readonly pieceStandard: string;
  readonly stage: Stage;
  /** Since when it is at that stage. */
  readonly since: string;
  readonly blanksForPhysical: number;
  readonly acceptanceNumber: number;
  readonly rejectionNumber: number;
  readonly blanksMeasured: number;
  readonly blanksNonconforming: number;
  readonly blanksOffMass: number;
  readonly blanksBelowLeastMass: number;
  readonly physical: PhysicalState;
  readonly blanksCut: number;
  readonly blanksReturned: number;
  readonly determinationsValid: number;
  /** Entry of the result that stands; null while none is signed or it was sent back. */
  readonly result: number | null;
  readonly resultState: 'none' | 'signed' | 'checked';
  readonly verdict: string | null;
  /** How the impurities of that result lie to the table; absent where the standard has none. */
  readonly impurities?: ImpurityState;
  /** The ruling that stands; null while there is none, or a held melt has a newer result. */
  readonly ruling: Ruling | null;
  /** Entry that returned the melt to its supplier. */
  readonly returned: number | null;
};

/** Where each melt is on its way through the laboratory. */
export const trials = defineBook<TrialRow>({
  name: 'laboratory_trial',
  meaning: 'The trial of a melt: how far it has come and what it says.',
  key: ['melt'],
  indexes: { byStage: ['stage', 'since', 'melt'] },
});

export type BlankRow = {
  readonly melt: string;
  readonly blank: string;
  readonly measurement: Measurement &
    Recorded & { readonly balance: string; readonly micrometer: string };
  /** Measurements that were corrected, oldest first, each with the reason of its correction. */
  readonly corrected: readonly (Measurement & Recorded & { readonly reason: string })[];
  readonly cut: Recorded | null;
  readonly returned: Recorded | null;
};

export const blanks = defineBook<BlankRow>({
  name: 'laboratory_blank',
  meaning: 'A measured blank, and whether it was cut or went back.',
  key: ['melt', 'blank'],
});

export type AssayRunRow = Recorded & {
  readonly assayRun: string;
  readonly melt: string;
  readonly method: string;
  readonly instrument: string;
  readonly state: 'valid' | 'void';
  readonly voidReason: string | null;
  readonly worksheet: CupellationRecorded | DifferenceRecorded | TitrationRecorded;
};

export const assayRuns = defineBook<AssayRunRow>({
  name: 'laboratory_assay_run',
  meaning: 'A run of determinations with every reading.',
  key: ['assayRun'],
  indexes: { byMelt: ['melt', 'entry'] },
});

export type DeterminationRow = Determination & {
  readonly assayRun: string;
  readonly melt: string;
  readonly entry: number;
  /** Its place in the order in which the determinations of the melt were obtained. */
  readonly place: number;
  readonly state: 'valid' | 'void' | 'discarded';
  readonly discarded: (Recorded & { readonly reason: string }) | null;
};

export const determinations = defineBook<DeterminationRow>({
  name: 'laboratory_determination',
  meaning: 'One determination of a run, and whether it counts.',
  key: ['assayRun', 'label'],
  indexes: { byMelt: ['melt', 'entry', 'place'] },
});

export type ResultRow = {
  readonly melt: string;
  readonly result: number;
  readonly instant: string;
  readonly signer: string;
  readonly state: 'signed' | 'checked' | 'sent back' | 'superseded';
  readonly checked: Recorded | null;
  readonly sentBack: (Recorded & { readonly reason: string }) | null;
  readonly body: ResultSigned;
};

export const results = defineBook<ResultRow>({
  name: 'laboratory_result',
  meaning: 'A signed result of a melt, and who checked it.',
  key: ['melt', 'result'],
});

export type RulingRow = Recorded & MeltRuled;

export const rulingsOfMelts = defineBook<RulingRow>({
  name: 'laboratory_ruling',
  meaning: 'A ruling of the chief assayer on a melt.',
  key: ['melt', 'entry'],
  indexes: { byEntry: ['entry'] },
});

/** The newest ruling on each melt and nothing more of it, for those who ask it of many melts. */
export const newestRulings = defineBook<{ melt: string; ruling: Ruling; entry: number }>({
  name: 'laboratory_newest_ruling',
  meaning: 'What the chief assayer ruled last on a melt.',
  key: ['melt'],
});

export type ReturnRow = Recorded & MeltReturned & { readonly witness: string };

export const meltReturns = defineBook<ReturnRow>({
  name: 'laboratory_melt_return',
  meaning: 'What went back to the supplier of a refused melt.',
  key: ['melt', 'entry'],
});

export const laboratoryBooks = [
  assayRuns,
  blanks,
  determinations,
  meltReturns,
  newestRulings,
  results,
  rulingsOfMelts,
  trials,
] as const;
