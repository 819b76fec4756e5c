import { useEffect, useMemo, useState } from 'react';
import { readTableFile } from '../../../../tables/table-file.ts';
import { attachmentPath } from '../../../../workbench/index.ts';
import type { ChosenTable } from '../../exchange/screens/table-file-field.tsx';
import { type KeptTable, useKeptTable } from '../../exchange/screens/use-kept-table.ts';
import type { ResultMapping, ResultMethod } from '../result-bodies.ts';
import { proposeResultMapping } from '../result-proposal.ts';
import { isSame } from '../same-mapping.ts';
import { draftOf, emptyMethod, type MethodDraft, methodOf } from './method-draft.ts';

/** How the files of a spectrometer are read, as somebody confirmed it. */
export interface Confirmed {
  readonly instrument: string;
  readonly mapping: ResultMapping;
  readonly method: ResultMethod;
}

/** What a kept sheet holds of the file in hand. */
export interface FileSheet {
  /** Null while nobody has changed what is proposed or confirmed. */
  readonly mapping: ResultMapping | null;
  readonly method: MethodDraft | null;
  readonly file: KeptTable | null;
}

export const emptyFileSheet: FileSheet = { mapping: null, method: null, file: null };

/** A kept file as it was sent, laid out again; nothing where the plant does not hand it out. */
async function fetched({ name, sha256 }: KeptTable): Promise<ChosenTable | undefined> {
  const response = await fetch(attachmentPath(sha256));
  if (!response.ok) return undefined;
  const file = new File([await response.blob()], name);
  return { ...(await readTableFile(new Uint8Array(await file.arrayBuffer()))), file };
}

/**
 * The file of the sheet: chosen on this page, or brought back from the plant after a reload. One
 * that was kept as read is not brought back, for its lines may stand elsewhere than in the file.
 */
function useChosen(sheet: FileSheet, change: (part: Partial<FileSheet>) => void) {
  const [chosen, choose] = useState<ChosenTable | undefined>(undefined);
  const { kept, problem } = useKeptTable(chosen, chosen?.read.outcome === 'sheets');
  const { file } = sheet;
  useEffect(() => {
    if (kept && kept.sha256 !== file?.sha256) change({ file: kept });
  }, [kept, file, change]);
  useEffect(() => {
    if (chosen || file?.kept !== 'as sent') return;
    let isCurrent = true;
    fetched(file).then(
      (found) => isCurrent && found && choose(found),
      () => undefined,
    );
    return () => {
      isCurrent = false;
    };
  }, [chosen, file]);
  return { chosen, choose, kept, problem };
}

/** The file in hand: what it seems to mean, what a person changed, what is known of the method. */
export function useFileInHand(
  confirmed: Confirmed | undefined,
  sheet: FileSheet,
  change: (part: Partial<FileSheet>) => void,
) {
  const { chosen, choose, kept, problem } = useChosen(sheet, change);
  const sheets = chosen?.read.outcome === 'sheets' ? chosen.read.sheets : undefined;
  const proposal = useMemo(
    () => sheets && proposeResultMapping(sheets, confirmed?.mapping),
    [sheets, confirmed],
  );
  const mapping = sheets && (sheet.mapping ?? proposal?.mapping);
  const method = sheet.method ?? (confirmed ? draftOf(confirmed.method) : emptyMethod);
  const typed = methodOf(method, mapping);
  const isConfirmed =
    confirmed !== undefined &&
    mapping !== undefined &&
    'method' in typed &&
    isSame(confirmed.mapping, mapping) &&
    isSame(confirmed.method, typed.method);
  return {
    chosen,
    choose: (file: ChosenTable) => {
      choose(file);
      change({ mapping: null });
    },
    kept,
    problem,
    sheets,
    proposal,
    mapping,
    change: (changed: ResultMapping) => change({ mapping: changed }),
    method,
    changeMethod: (part: Partial<MethodDraft>) => change({ method: { ...method, ...part } }),
    typed: 'method' in typed ? typed.method : undefined,
    isConfirmed,
  };
}

export type FileInHand = ReturnType<typeof useFileInHand>;
