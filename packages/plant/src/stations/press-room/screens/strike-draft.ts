import {
  emptyReading,
  type ReadingDraft,
  readingOf,
  wholeNumberOf,
} from '../../../workbench/index.ts';
import type { DefectFamily, Face, Occasion } from '../bodies.ts';
import type { Measured } from './judged-reading.tsx';

/** A strike while it is examined. */
export interface StrikeDraft {
  readonly occasion: Occasion | '';
  readonly counter: string;
  readonly mass: ReadingDraft;
  readonly diameter: ReadingDraft;
  readonly thickness: ReadingDraft;
  readonly photographs: Readonly<Record<Face, string>>;
  readonly verdict: 'approved' | 'fault' | '';
  readonly family: DefectFamily | '';
  readonly words: string;
}

export const emptyStrike: StrikeDraft = {
  occasion: '',
  counter: '',
  mass: emptyReading('g'),
  diameter: emptyReading('mm'),
  thickness: emptyReading('mm'),
  photographs: { obverse: '', reverse: '', edge: '' },
  verdict: '',
  family: '',
  words: '',
};

export const faces = ['obverse', 'reverse', 'edge'] as const satisfies readonly Face[];

/**
 * Strokes since the run began, from what the counter of the press shows; text that is no number
 * goes as it stands.
 */
export function strikeNumberOf(counter: string, counterBefore: number): number | string | null {
  const shown = wholeNumberOf(counter);
  return typeof shown === 'number' ? shown - counterBefore : shown;
}

/** The strike as the command takes one. */
export function strikeInput(
  draft: StrikeDraft,
  of: {
    readonly run: string;
    readonly counterBefore: number;
    readonly occasion: Occasion;
    readonly instruments: Readonly<Record<Measured, string>>;
  },
) {
  const { family, words } = draft;
  return {
    run: of.run,
    occasion: of.occasion,
    strikeNumber: strikeNumberOf(draft.counter, of.counterBefore),
    mass: readingOf(draft.mass),
    diameter: readingOf(draft.diameter),
    thickness: readingOf(draft.thickness),
    instruments: of.instruments,
    photographs: faces.flatMap((face) =>
      draft.photographs[face] === '' ? [] : [{ face, sha256: draft.photographs[face] }],
    ),
    verdict: draft.verdict,
    defect: draft.verdict === 'fault' ? { family, words: words.trim() } : null,
  };
}
