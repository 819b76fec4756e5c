import { useState } from 'react';
import { readTableFile } from '../../../tables/table-file.ts';
import { TextField } from '../../../workbench/index.ts';
import type { ChosenFile } from './use-list.ts';

/** Takes the supplier's file: chosen, let go over the place, or pasted as text. */
export function ListFile(props: {
  readonly text: string;
  readonly fileName: string;
  readonly onText: (text: string) => void;
  /** The text is empty for a workbook, whose cells are in what was read. */
  readonly onFile: (chosen: ChosenFile, text: string) => void;
}) {
  const { text, fileName, onText, onFile } = props;
  const [isOver, setIsOver] = useState(false);
  const [stage, setStage] = useState('');
  const take = async (file: File | undefined) => {
    if (!file) return;
    setStage(`Reading ${file.name} …`);
    const { read, text: cells } = await readTableFile(new Uint8Array(await file.arrayBuffer()));
    const isText = read.outcome === 'sheets' && (read.sheets[0]?.isRagged ?? false);
    setStage('');
    onFile({ file, read }, isText ? cells : '');
  };
  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the file field inside does the same by keyboard */}
      <div
        className={`drop-place${isOver ? ' drop-place-over' : ''}`}
        onDragOver={(event) => {
          event.preventDefault();
          setIsOver(true);
        }}
        onDragLeave={() => setIsOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setIsOver(false);
          void take(event.dataTransfer.files[0]);
        }}
      >
        <div className="field">
          <label htmlFor="packing-list">File of the supplier (CSV or XLSX)</label>
          <input
            id="packing-list"
            type="file"
            accept=".csv,.txt,.tsv,.xlsx,text/csv,text/plain,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
            onChange={(event) => void take(event.target.files?.[0])}
          />
          <p className="field-hint" aria-live="polite">
            {stage ||
              fileName ||
              'Choose it or drop it here, as the supplier sent it: one drum in a row.'}
          </p>
        </div>
      </div>
      <TextField label="Or paste it" kind="long" value={text} onChange={onText} optional />
    </>
  );
}
