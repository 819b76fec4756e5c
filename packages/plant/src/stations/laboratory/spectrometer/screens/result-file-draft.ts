import { emptyReading, type ReadingDraft, readingOf } from '../../../../workbench/reading-draft.ts';
import type { LineAside } from '../../exchange/screens/table-problems.tsx';

/** A reference material that a sample of the file is of. */
export interface MaterialDraft {
  readonly referenceMaterial: string;
  readonly taken: ReadingDraft;
}

export const emptyMaterial: MaterialDraft = { referenceMaterial: '', taken: emptyReading('mg') };
/** What a sample is of that is no blank of the melt. */
export const ofMaterial = 'reference material';

/** What is said about a result file before it is taken. */
export interface FileDraft {
  readonly assayRun: string;
  readonly policy: 'zero' | 'half' | 'limit';
  readonly setAside: readonly LineAside[];
  /** What each sample of the file that is taken is of: a blank, or a reference material. */
  readonly blanks: Readonly<Record<string, string>>;
  readonly materials: Readonly<Record<string, MaterialDraft>>;
  /** Lots of reagents, parted by blanks. */
  readonly lots: string;
  readonly reason: string;
}

export const emptyDraft: FileDraft = {
  assayRun: '',
  policy: 'limit',
  setAside: [],
  blanks: {},
  materials: {},
  lots: '',
  reason: '',
};

/** A label of the file as an id. */
export const asId = (label: string): string => label.replace(/[^A-Za-z0-9._/-]/g, '-');

/** Reference materials and reagents as the command takes them. */
export function controlsOf(draft: FileDraft, materials: readonly string[]) {
  const references = materials.map((solution) => {
    const { referenceMaterial, taken } = draft.materials[solution] ?? emptyMaterial;
    return { label: asId(solution), solution, referenceMaterial, taken: readingOf(taken) };
  });
  const reagentLots = [...new Set(draft.lots.split(/[\s,;]+/).filter((lot) => lot !== ''))];
  return {
    ...(references.length > 0 ? { references } : {}),
    ...(reagentLots.length > 0 ? { reagentLots } : {}),
  };
}
