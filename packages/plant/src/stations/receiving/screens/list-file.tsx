import { useState } from 'react';
import { TextField } from '../../../workbench/index.ts';

/** The text of a file: UTF-8, or where it is none, the code page that older desks still write. */
async function textOf(file: File): Promise<string> {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** Takes the supplier's file: chosen, let go over the place, or pasted as text. */
export function ListFile(props: {
  readonly text: string;
  readonly onText: (text: string) => void;
}) {
  const { text, onText } = props;
  const [name, setName] = useState('');
  const [isOver, setIsOver] = useState(false);
  const take = async (file: File | undefined) => {
    if (!file) return;
    setName(file.name);
    onText(await textOf(file));
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
          <label htmlFor="packing-list">File of the supplier (CSV)</label>
          <input
            id="packing-list"
            type="file"
            accept=".csv,.txt,text/csv,text/plain"
            onChange={(event) => void take(event.target.files?.[0])}
          />
          <p className="field-hint">
            {name === '' ? 'Choose it or drop it here: one drum in a row, with a header.' : name}
          </p>
        </div>
      </div>
      <TextField label="Or paste it" kind="long" value={text} onChange={onText} optional />
    </>
  );
}
