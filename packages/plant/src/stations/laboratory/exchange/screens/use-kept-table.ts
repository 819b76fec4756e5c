import { useEffect, useState } from 'react';
import { transcript } from '../../../../tables/table-file.ts';
// The one way to keep a file beside the journal; photographs take it too.
import { keepAttachment } from '../../../../workbench/plant-client.ts';
import type { ChosenTable } from './table-file-field.tsx';

/** A file as an entry names it. */
export interface KeptTable {
  readonly name: string;
  readonly sha256: string;
  readonly kept: 'as sent' | 'as read';
}

/** Keeps the file as it was sent; where it is of no type that is kept, its cells as text. */
async function keep(chosen: ChosenTable): Promise<KeptTable | { readonly problem: string }> {
  const name = chosen.file.name.slice(0, 200) || 'table';
  const sent = await keepAttachment(chosen.file);
  if ('sha256' in sent) return { name, sha256: sent.sha256, kept: 'as sent' };
  const { read } = chosen;
  const cells = read.outcome === 'sheets' ? transcript(read.sheets) : chosen.text;
  const cellsKept = await keepAttachment(new File([cells], name, { type: 'text/csv' }));
  if ('sha256' in cellsKept) return { name, sha256: cellsKept.sha256, kept: 'as read' };
  return { problem: cellsKept.refusals.map(({ message }) => message).join(' ') };
}

/** Keeps the file beside the journal once every row of it is right. */
export function useKeptTable(
  chosen: ChosenTable | undefined,
  isReady: boolean,
): { readonly kept: KeptTable | undefined; readonly problem: string } {
  const [kept, setKept] = useState<KeptTable | undefined>(undefined);
  const [problem, setProblem] = useState('');
  useEffect(() => {
    let isCurrent = true;
    setKept(undefined);
    setProblem('');
    if (!isReady || !chosen) return;
    keep(chosen).then(
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
  }, [isReady, chosen]);
  return { kept, problem };
}
