import type { PackingListColumns } from '../bodies.ts';
import type { DeskAnswer } from './desk-answer.ts';
import { type HandDrum, handColumns, handList } from './drums-by-hand.ts';
import { proposedColumns, proposedForm } from './proposed-columns.ts';

/** A consignment while it is being announced: nothing of it is recorded yet. */
export interface AnnounceDraft {
  readonly consignment: string;
  readonly supplier: string;
  readonly document: string;
  readonly pieceStandard: string;
  readonly way: 'list' | 'hand';
  readonly text: string;
  readonly columns: PackingListColumns;
  readonly massUnit: 'kg' | 'g';
  readonly decimalMark: 'point' | 'comma';
  readonly drums: readonly HandDrum[];
}

export type ChangeAnnounceDraft = (part: Partial<AnnounceDraft>) => void;

type Kept = DeskAnswer['packingListColumns'][number];

/** What the columns of the supplier's lists were called last time. */
export function keptFor(answer: DeskAnswer, supplier: string): Kept | undefined {
  return answer.packingListColumns.find((row) => row.supplier === supplier);
}

/** What the columns of a list mean: as kept for its supplier, else as its header and first row show. */
export function readingFor(text: string, kept: Kept | undefined): Partial<AnnounceDraft> {
  const columns = proposedColumns(text, kept?.columns as PackingListColumns | undefined);
  if (!kept) return { text, columns, ...proposedForm(text, columns) };
  return { text, columns, massUnit: kept.massUnit, decimalMark: kept.decimalMark };
}

/** Whether the list would be read as the supplier's lists were read before. */
export function isAsKept(draft: AnnounceDraft, kept: Kept | undefined): boolean {
  if (!kept) return false;
  const { columns, massUnit, decimalMark } = draft;
  const isSameForm = kept.massUnit === massUnit && kept.decimalMark === decimalMark;
  const names = Object.entries(columns) as [keyof PackingListColumns, string | null][];
  return isSameForm && names.every(([field, name]) => kept.columns[field] === name);
}

/** The packing list as text with the reading of its columns; what was filled in by hand, too. */
export function listOf(draft: AnnounceDraft) {
  const { consignment, supplier, document, pieceStandard, columns, massUnit, decimalMark } = draft;
  const head = { consignment, supplier, document, pieceStandard };
  if (draft.way === 'list') {
    return { text: draft.text, reading: { ...head, columns, massUnit, decimalMark } };
  }
  return {
    text: handList(draft.drums),
    reading: { ...head, columns: handColumns, massUnit, decimalMark: 'point' as const },
  };
}
