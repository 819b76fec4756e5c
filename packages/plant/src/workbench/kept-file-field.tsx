import { useId, useState } from 'react';
import { keepAttachment } from './plant-client.ts';

/** A document that is kept beside the journal; its hash goes into the entry. */
export interface KeptDocument {
  readonly name: string;
  readonly sha256: string;
}

const accepted = '.pdf,.jpg,.jpeg,.png,.webp,.csv,.xlsx';
const longestName = 200;

/** Takes a document as it came, and keeps it at once. */
export function KeptFileField(props: {
  readonly label: string;
  readonly value: KeptDocument | null;
  readonly onChange: (kept: KeptDocument | null) => void;
  readonly optional?: boolean;
  readonly hint?: string | undefined;
  readonly refusal?: string | undefined;
}) {
  const id = useId();
  const [stage, setStage] = useState('');
  const keep = async (file: File | undefined) => {
    if (!file) return;
    setStage(`Keeping ${file.name} …`);
    try {
      const kept = await keepAttachment(file);
      if ('sha256' in kept) {
        props.onChange({ name: file.name.slice(0, longestName), sha256: kept.sha256 });
        setStage('');
      } else setStage(kept.refusals.map(({ message }) => message).join(' '));
    } catch (error) {
      setStage(`${(error as Error).message} Choose the file again when the network is back.`);
    }
  };
  const trouble = props.refusal ?? (stage === '' ? undefined : stage);
  return (
    <div className={`field${props.refusal ? ' field-refused' : ''}`}>
      <label htmlFor={id}>
        {props.label}
        {props.optional ? <span className="faint"> (may stay empty)</span> : null}
      </label>
      <input
        id={id}
        type="file"
        accept={accepted}
        aria-describedby={`${id}-said`}
        onChange={(event) => void keep(event.target.files?.[0])}
      />
      <p className={trouble ? 'field-refusal' : 'field-hint'} id={`${id}-said`} role="status">
        {trouble ?? props.value?.name ?? props.hint ?? 'PDF, picture, CSV or XLSX.'}
      </p>
    </div>
  );
}
