import { useId, useState } from 'react';
import { attachmentPath, keepAttachment } from './plant-client.ts';

/** A photograph that is kept beside the journal; its hash goes into the entry. */
export function PhotographField(props: {
  readonly label: string;
  /** Hash of the photograph, empty while there is none. */
  readonly sha256: string;
  readonly onChange: (sha256: string) => void;
  readonly refusal?: string | undefined;
}) {
  const id = useId();
  const [stage, setStage] = useState('');
  const keep = async (file: File | undefined) => {
    if (!file) return;
    setStage('Keeping the photograph …');
    try {
      const kept = await keepAttachment(file);
      if ('sha256' in kept) {
        props.onChange(kept.sha256);
        setStage('');
      } else
        setStage(
          kept.refusals.map((refusal) => `${refusal.message} ${refusal.nextStep}`).join(' '),
        );
    } catch (error) {
      setStage(`${(error as Error).message} Choose the photograph again when the network is back.`);
    }
  };
  const trouble = props.refusal ?? (stage === '' ? undefined : stage);
  return (
    <div className={`field photograph${props.refusal ? ' field-refused' : ''}`}>
      <label htmlFor={id}>{props.label}</label>
      <div className="photograph-entry">
        {props.sha256 ? <img src={attachmentPath(props.sha256)} alt={props.label} /> : null}
        <input
          id={id}
          type="file"
          accept="image/jpeg,image/png,image/webp"
          capture="environment"
          onChange={(event) => void keep(event.target.files?.[0])}
        />
      </div>
      {trouble ? (
        <p className="field-refusal" role="status">
          {trouble}
        </p>
      ) : null}
    </div>
  );
}
