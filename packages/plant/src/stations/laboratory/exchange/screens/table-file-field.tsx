import { useId, useState } from 'react';
import { readTableFile, type TableFileRead } from '../../../../tables/table-file.ts';

/** A file that was chosen, with what was laid out of it. It does not outlive the page. */
export interface ChosenTable extends TableFileRead {
  readonly file: File;
}

/** Takes a table as a file: chosen, or let go over the place. */
export function TableFileField(props: {
  readonly label: string;
  readonly hint: string;
  readonly chosen: ChosenTable | undefined;
  readonly onFile: (chosen: ChosenTable) => void;
}) {
  const { label, hint, chosen, onFile } = props;
  const id = useId();
  const [isOver, setIsOver] = useState(false);
  const [stage, setStage] = useState('');
  const take = async (file: File | undefined) => {
    if (!file) return;
    setStage(`Reading ${file.name} …`);
    const read = await readTableFile(new Uint8Array(await file.arrayBuffer()));
    setStage('');
    onFile({ ...read, file });
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the file field inside does the same by keyboard
    <div
      className={`table-file${isOver ? ' table-file-over' : ''}`}
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
        <label htmlFor={id}>{label}</label>
        <input
          id={id}
          type="file"
          accept=".csv,.txt,.tsv,.xlsx,text/csv,text/plain,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
          onChange={(event) => void take(event.target.files?.[0])}
        />
        <p className="field-hint" aria-live="polite">
          {stage || chosen?.file.name || hint}
        </p>
      </div>
    </div>
  );
}
