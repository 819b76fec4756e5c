import { defineBook } from '../../../journal/books.ts';
import type { JsonObject } from '../../../ports/json.ts';
import type { Recorded } from '../books.ts';

/** What may be examined of a blank beside its mass and size. */
export type ExaminedQuality = 'hardness' | 'grain size' | 'edge';

/** How the finding stands to its limits. */
export const findings = ['inside', 'undecided', 'outside', 'no limits'] as const;

export type Finding = (typeof findings)[number];

export type ExaminationRow = Recorded & {
  readonly melt: string;
  readonly blank: string;
  readonly quality: ExaminedQuality;
  readonly instrument: string;
  readonly finding: Finding;
  readonly words: string;
  /** The whole entry, so that everybody sees what the examiner saw. */
  readonly body: JsonObject;
  /** Why it counts no longer; null while it does. */
  readonly setAside: string | null;
};

export const examinations = defineBook<ExaminationRow>({
  name: 'laboratory_examination',
  meaning: 'Hardness, grain size or edge of a blank, with every reading.',
  key: ['melt', 'entry'],
  indexes: { byFinding: ['finding', 'entry'] },
});

export const examinationBooks = [examinations] as const;
