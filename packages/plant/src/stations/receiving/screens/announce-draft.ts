import type { Sheet } from '../../../tables/sheet.ts';
import type { ListHead, SetAside } from '../list/list-result.ts';
import type { ProposedMapping } from '../list/proposal.ts';
import { proposeMapping } from '../list/proposal.ts';
import type { DeskAnswer } from './desk-answer.ts';
import type { HandDrum } from './drums-by-hand.ts';

/** A consignment while it is being announced: nothing of it is recorded yet. */
export interface AnnounceDraft extends ListHead {
  readonly way: 'list' | 'hand';
  /** The list as text: pasted, or of a file of text. Empty for a workbook, which is not kept here. */
  readonly text: string;
  readonly fileName: string;
  /** How the list is read; nothing while there is none. */
  readonly mapping: ProposedMapping | null;
  readonly setAside: readonly SetAside[];
  readonly massUnit: 'kg' | 'g';
  readonly drums: readonly HandDrum[];
}

export type ChangeAnnounceDraft = (part: Partial<AnnounceDraft>) => void;

/** How the lists of a supplier are read, as confirmed. */
export function confirmedFor(answer: DeskAnswer, supplier: string) {
  return answer.listMappings.find((row) => row.supplier === supplier)?.mapping;
}

/** How a list is read at first: as confirmed for its supplier, else as its header and cells show. */
export function mappingFor(
  sheets: readonly Sheet[],
  answer: DeskAnswer,
  supplier: string,
): Pick<AnnounceDraft, 'mapping' | 'setAside'> {
  const proposal = proposeMapping(sheets, confirmedFor(answer, supplier));
  return { mapping: proposal?.mapping ?? null, setAside: [] };
}

/** What a list does not say itself. */
export function headOf(draft: AnnounceDraft): ListHead {
  const { consignment, supplier, document, pieceStandard } = draft;
  return { consignment, supplier, document, pieceStandard };
}

/** Lines that are set aside without a reason that could stand. */
export function withoutReason(setAside: readonly SetAside[]): readonly number[] {
  return setAside.filter(({ reason }) => reason.trim().length < 3).map(({ line }) => line);
}
