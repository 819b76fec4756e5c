import { useEffect, useMemo, useState } from 'react';
import { sheetsOfCsv } from '../../../tables/csv-sheet.ts';
import type { SheetsRead } from '../../../tables/sheet.ts';
import { transcript } from '../../../tables/table-file.ts';
// The one way to keep a file beside the journal; photographs take it too.
import { keepAttachment } from '../../../workbench/plant-client.ts';
import { listMappingSchema, type TakenList } from '../list/list-bodies.ts';
import type { PackingListResult } from '../list/list-result.ts';
import { readList } from '../list/read-list.ts';
import { readPackingList } from '../packing-list.ts';
import { type AnnounceDraft, headOf } from './announce-draft.ts';
import { handColumns, handList } from './drums-by-hand.ts';

/** A file that was chosen, with what was laid out of it. It does not outlive the page. */
export interface ChosenFile {
  readonly file: File;
  readonly read: SheetsRead;
}

/** The list laid out as rows; nothing while there is none. */
export function useSheets(text: string, chosen: ChosenFile | undefined): SheetsRead | undefined {
  return useMemo(
    () => chosen?.read ?? (text.trim() === '' ? undefined : sheetsOfCsv(text)),
    [text, chosen],
  );
}

/** The list, or the drums typed by hand, as they are read now; nothing while that cannot be told. */
export function useReadList(
  draft: AnnounceDraft,
  read: SheetsRead | undefined,
): PackingListResult | undefined {
  const { way, mapping, setAside, drums, massUnit } = draft;
  const asked = JSON.stringify({ head: headOf(draft), mapping, setAside });
  return useMemo(() => {
    const { head, ...how } = JSON.parse(asked) as {
      head: ReturnType<typeof headOf>;
      mapping: unknown;
      setAside: AnnounceDraft['setAside'];
    };
    if (way === 'hand') {
      const text = handList(drums);
      const form = { columns: handColumns, massUnit, decimalMark: 'point' as const };
      return text === '' ? undefined : readPackingList(text, { ...head, ...form });
    }
    if (!read) return undefined;
    if (read.outcome === 'problem') return { outcome: 'problems', problems: [read.problem] };
    const parsed = listMappingSchema.safeParse(how.mapping);
    return parsed.success ? readList(read.sheets, parsed.data, head, how.setAside) : undefined;
  }, [asked, way, drums, massUnit, read]);
}

export type KeptFile = TakenList['file'];

const asText = (name: string, text: string) => new File([text], name, { type: 'text/csv' });

/** Keeps the file as it was sent; where it is of no type that is kept, its cells as text. */
async function keepList(
  draft: { readonly fileName: string; readonly text: string },
  chosen: ChosenFile | undefined,
): Promise<KeptFile | { readonly problem: string }> {
  const name = draft.fileName === '' ? 'pasted list' : draft.fileName.slice(0, 200);
  const sent = await keepAttachment(chosen?.file ?? asText(name, draft.text));
  if ('sha256' in sent) {
    return { name, sha256: sent.sha256, kept: chosen ? 'as sent' : 'as read' };
  }
  const cells = chosen?.read.outcome === 'sheets' ? transcript(chosen.read.sheets) : draft.text;
  const read = await keepAttachment(asText(name, cells));
  if ('sha256' in read) return { name, sha256: read.sha256, kept: 'as read' };
  return { problem: read.refusals.map(({ message }) => message).join(' ') };
}

/** Keeps the list beside the journal once every row of it is right. */
export function useKeptFile(
  draft: AnnounceDraft,
  chosen: ChosenFile | undefined,
  isReady: boolean,
): { readonly kept: KeptFile | undefined; readonly problem: string } {
  const { fileName, text } = draft;
  const [kept, setKept] = useState<KeptFile | undefined>(undefined);
  const [problem, setProblem] = useState('');
  useEffect(() => {
    let isCurrent = true;
    setKept(undefined);
    setProblem('');
    if (!isReady) return;
    keepList({ fileName, text }, chosen).then(
      (outcome) => {
        if (!isCurrent) return;
        if ('problem' in outcome) setProblem(outcome.problem);
        else setKept(outcome);
      },
      (error: Error) => isCurrent && setProblem(error.message),
    );
    return () => {
      isCurrent = false;
    };
  }, [isReady, fileName, text, chosen]);
  return { kept, problem };
}
