import type { DeskInstrument } from '../../screens/trial-answer.ts';
import type { ExaminationRow } from '../books.ts';

/** Least and greatest that a piece standard sets; null for one that it leaves open. */
export interface Window {
  readonly least: number | null;
  readonly greatest: number | null;
}

export type ShownExamination = ExaminationRow & { readonly authorName: string };

/** What the question `melt-examinations` answers. */
export interface ExaminationsAnswer {
  readonly melt: string;
  readonly pieceStandard: string;
  readonly pieceStandardTitle: string;
  readonly metal: string;
  readonly isOpen: boolean;
  readonly blanks: readonly {
    readonly blank: string;
    readonly isCut: boolean;
    readonly thicknessMillimetres: number | null;
  }[];
  readonly hardness: Window | null;
  readonly grainSize: Window | null;
  readonly instruments: readonly DeskInstrument[];
  readonly examinations: readonly ShownExamination[];
}
