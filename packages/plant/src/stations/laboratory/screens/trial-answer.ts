import type { Calculated } from '../../../journal/calculated.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import type { Drawing } from '../../../workbench/index.ts';
import type { AssayMethod } from '../../registers/index.ts';
import type { BlanksMeasured, PhysicalState, ResultFigures, Ruling } from '../bodies.ts';
import type {
  AssayRunRow,
  BlankRow,
  DeterminationRow,
  ResultRow,
  ReturnRow,
  RulingRow,
} from '../books.ts';
import type { GoverningEdition } from '../controls/screens/governing-edition.ts';
import type { FurtherCause } from '../further/bodies.ts';
import type { ResultPicture } from '../result-picture.ts';
import type { Stage } from '../stage.ts';

/** A drawn blank with what has been done to it. */
export interface ShownBlank {
  readonly blank: string;
  readonly pick: number;
  readonly drum: string;
  readonly position: number;
  readonly forAssay: boolean;
  readonly forPhysical: boolean;
  /** The round of further blanks that it was drawn in; nothing for one of the first sample. */
  readonly further: number | null;
  readonly measurement: BlankRow['measurement'] | null;
  readonly corrected: BlankRow['corrected'];
  readonly cut: BlankRow['cut'];
  readonly returned: BlankRow['returned'];
  /** The sealed portion that it lies in, or left with. */
  readonly portion: { readonly portion: string; readonly state: string } | null;
}

/** A round of further blanks that was asked for. */
export interface ShownRound {
  readonly round: number;
  readonly pieces: number;
  readonly state: 'asked' | 'drawn' | 'taken' | 'lapsed';
  readonly reason: string;
  readonly askedEntry: number;
  readonly askedAt: string;
  readonly blanks: readonly string[];
}

/** The limits of a blank, as the piece standard sets them. */
export type BlankLimits = BlanksMeasured['limits'];

/** A signed result with its limit rule. */
export type ShownResult = ResultRow & { readonly limitRule: Drawing | null };

/** What the question `melt-trial` answers. */
export interface TrialAnswer {
  readonly melt: string;
  readonly consignment: string;
  readonly supplier: string;
  readonly supplierName: string;
  readonly piecesOfMelt: number;
  readonly pieceStandard: string;
  readonly pieceStandardTitle: string;
  readonly metal: string;
  readonly method: AssayMethod;
  readonly finenessLimitPerMille: number;
  /** What a melt must show to pass. */
  readonly requiredConformanceProbability: number;
  readonly impurityTable: null | {
    readonly edition: string;
    readonly limits: readonly {
      readonly element: string;
      readonly limitMilligramsPerKilogram: number;
    }[];
  };
  readonly duplicateLimitPerMille: number;
  readonly cautions: readonly string[];
  /** The edition under which the next run would be recorded; null while no method is stated. */
  readonly governedBy: GoverningEdition | null;
  readonly stage: Stage;
  readonly since: string;
  readonly physical: {
    readonly state: PhysicalState;
    readonly blanksForPhysical: number;
    readonly blanksMeasured: number;
    readonly blanksNonconforming: number;
    readonly blanksOffMass: number;
    readonly blanksBelowLeastMass: number;
    readonly acceptanceNumber: number;
    readonly rejectionNumber: number;
    readonly plan: Calculated;
    readonly limits: BlankLimits;
    /** How the lot stands by variables; nothing where blanks at fault are counted. */
    readonly byVariables: {
      readonly blanksMeasured: number;
      readonly blanksNeeded: number;
      readonly words: string;
    } | null;
  };
  readonly blanks: readonly ShownBlank[];
  /** What is in doubt of all that the melt rests on. */
  readonly doubts: readonly {
    readonly what: string;
    readonly entry: number;
    readonly hold: string;
    readonly words: string;
  }[];
  readonly further: {
    /** Why further blanks may be asked for now; nothing where they may not. */
    readonly mayAskSince: FurtherCause | null;
    readonly rounds: readonly ShownRound[];
  };
  readonly runs: readonly AssayRunRow[];
  readonly determinations: readonly DeterminationRow[];
  readonly preview:
    | null
    | { readonly state: 'incomplete'; readonly missing: readonly Refusal[] }
    | {
        readonly state: 'complete';
        readonly figures: ResultFigures;
        readonly limitRule: Drawing | null;
      };
  /** Of the result that would be signed now, else of the one that stands. */
  readonly picture: ResultPicture | null;
  readonly results: readonly ShownResult[];
  readonly supplierValue: { readonly state: string; readonly finenessPerMille: number | null };
  readonly rulings: readonly RulingRow[];
  readonly returns: readonly ReturnRow[];
  readonly people: Readonly<Record<string, string>>;
}

/** A melt as the desk lists it. */
export interface DeskLine {
  readonly melt: string;
  readonly consignment: string;
  readonly pieceStandard: string;
  readonly pieceStandardTitle: string;
  readonly metal: string;
  readonly method: TrialAnswer['method'];
  readonly stage: Stage;
  readonly since: string;
  readonly blanksDrawn: number;
  readonly blanksForPhysical: number;
  readonly blanksMeasured: number;
  readonly blanksNonconforming: number;
  readonly physical: PhysicalState;
  readonly blanksForAssay: readonly string[];
  readonly blanksCut: readonly string[];
  readonly determinationsValid: number;
  readonly verdict: string | null;
  readonly ruling: Ruling | null;
}

/** An instrument as the desk lists it. */
export interface DeskInstrument {
  readonly instrument: string;
  readonly title: string;
  readonly kind: string;
  readonly calibrationDue: string;
  /** Why no reading of it counts today; nothing where it may be used. */
  readonly outOfUse: string | null;
}

/** What the question `laboratory-desk` answers. */
export interface DeskAnswer {
  readonly waiting: readonly DeskLine[];
  readonly recent: readonly DeskLine[];
  readonly instruments: readonly DeskInstrument[];
}

/** The result that stands for a melt: signed or checked, and not sent back. */
export function standingResultOf<Row extends { readonly state: string }>(
  results: readonly Row[],
): Row | undefined {
  return results.findLast(({ state }) => state === 'signed' || state === 'checked');
}
