import { decimalOf, emptyReading, type ReadingDraft, readingOf } from '../../../workbench/index.ts';
import type { TrialAnswer } from './trial-answer.ts';

export interface ProofDraft {
  readonly label: string;
  readonly goldTaken: ReadingDraft;
  readonly cornet: ReadingDraft;
}

export interface SampleDraft {
  readonly label: string;
  readonly blank: string;
  readonly sample: ReadingDraft;
  readonly cornet: ReadingDraft;
}

/** A cupellation run while it is made, from weighing in to the last cornet. */
export interface CupellationDraft {
  readonly assayRun: string;
  readonly correction: 'absolute' | 'proportional';
  /** As typed; empty where the certificate states none. */
  readonly proofGoldUncertainty: string;
  readonly extractionConfirmed: boolean;
  readonly proofs: readonly ProofDraft[];
  readonly samples: readonly SampleDraft[];
}

const milligrams = emptyReading('mg');

/** The next label of a list that none of its items bears. */
export function freeLabel(letter: string, items: readonly { readonly label: string }[]): string {
  const taken = new Set(items.map(({ label }) => label));
  let number = 1;
  while (taken.has(`${letter}${number}`)) number += 1;
  return `${letter}${number}`;
}

export const newProof = (proofs: readonly ProofDraft[]): ProofDraft => ({
  label: freeLabel('P', proofs),
  goldTaken: milligrams,
  cornet: milligrams,
});

export const newSample = (samples: readonly SampleDraft[], blank: string): SampleDraft => ({
  label: freeLabel('A', samples),
  blank,
  sample: milligrams,
  cornet: milligrams,
});

/** The cut blanks, those that no valid determination comes from first. */
export function blanksToAssay(answer: Pick<TrialAnswer, 'blanks' | 'determinations'>) {
  const assayed = new Set(
    answer.determinations.filter(({ state }) => state === 'valid').map(({ blank }) => blank),
  );
  const cut = answer.blanks.filter((row) => row.cut).map(({ blank }) => blank);
  const fresh = cut.filter((blank) => !assayed.has(blank));
  return { cut, suggested: fresh.length > 0 ? fresh : cut };
}

/** Two proofs, and a portion of each blank that waits. */
export function firstCupellation(
  answer: Pick<TrialAnswer, 'blanks' | 'determinations'>,
  left: number,
): CupellationDraft {
  const proofs = [newProof([])];
  const samples: SampleDraft[] = [];
  for (const blank of blanksToAssay(answer).suggested.slice(0, left)) {
    samples.push(newSample(samples, blank));
  }
  return {
    assayRun: '',
    correction: 'absolute',
    proofGoldUncertainty: '',
    extractionConfirmed: false,
    proofs: [...proofs, newProof(proofs)],
    samples,
  };
}

/** The run as the command takes it. */
export function cupellationInput(
  draft: CupellationDraft,
  given: { readonly melt: string; readonly instrument: string },
) {
  const uncertainty = decimalOf(draft.proofGoldUncertainty);
  return {
    assayRun: draft.assayRun,
    melt: given.melt,
    correction: draft.correction,
    proofs: draft.proofs.map(({ label, goldTaken, cornet }) => ({
      label,
      goldTaken: readingOf(goldTaken),
      cornet: readingOf(cornet),
    })),
    samples: draft.samples.map(({ label, blank, sample, cornet }) => ({
      label,
      blank,
      sample: readingOf(sample),
      cornet: readingOf(cornet),
    })),
    ...(uncertainty === null ? {} : { proofGoldStandardUncertaintyPerMille: uncertainty }),
    instrument: given.instrument,
    extractionConfirmed: draft.extractionConfirmed,
  };
}
