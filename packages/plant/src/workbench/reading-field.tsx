import { useRef } from 'react';
import type { Reading } from '../journal/reading.ts';
import { Field } from './field.tsx';
import { readingIn } from './keystrokes.ts';
import { localDecimalSign, typedDecimal } from './number-text.ts';
import { useReceiver } from './scan-catcher.tsx';

/** A reading while it is being made: what stands in the field, not yet held to be a number. */
export interface ReadingDraft {
  readonly text: string;
  readonly unit: Reading['unit'];
  readonly typed: boolean;
}

/** An empty reading in that unit. */
export function emptyReading(unit: Reading['unit']): ReadingDraft {
  return { text: '', unit, typed: true };
}

/**
 * The reading as commands take it. Text that is no number goes as it stands, so that the plant
 * refuses it by name; an empty field is nothing.
 */
export function readingOf(draft: ReadingDraft): Reading | null {
  if (draft.text.trim() === '') return null;
  return { ...draft, text: draft.typed ? (typedDecimal(draft.text) ?? draft.text) : draft.text };
}

/**
 * A reading of an instrument. A balance that sends keystrokes fills it by itself and it stands as
 * sent; what a hand types is marked as typed. `large` shows it so that it is read at two metres.
 */
export function ReadingField(props: {
  readonly label: string;
  readonly value: ReadingDraft;
  readonly onChange: (value: ReadingDraft) => void;
  readonly large?: boolean;
  readonly hint?: string | undefined;
  readonly refusal?: string | undefined;
  readonly optional?: boolean;
}) {
  const { value, onChange, label, hint, refusal } = props;
  const element = useRef<HTMLInputElement>(null);
  const receive = (sent: string) => {
    const reading = readingIn(sent);
    const unit = (reading?.unit ?? value.unit) as Reading['unit'];
    onChange(
      reading ? { text: reading.text, unit, typed: false } : { ...value, text: sent, typed: true },
    );
  };
  const waits = useReceiver({ element, scans: true, isEmpty: value.text === '', receive });
  const size = props.large ? ' reading-large' : '';
  const shown = value.typed ? value.text : value.text.replace('.', localDecimalSign());
  return (
    <div className={`reading${size}`}>
      <Field {...{ label, hint, refusal, waits }} unit={value.unit} optional={props.optional}>
        {({ id, describedBy }) => (
          <input
            id={id}
            ref={element}
            className="reading-entry"
            inputMode="decimal"
            autoComplete="off"
            spellCheck={false}
            aria-describedby={describedBy}
            aria-invalid={refusal ? true : undefined}
            value={shown}
            onChange={(event) => onChange({ ...value, text: event.target.value, typed: true })}
          />
        )}
      </Field>
      <p className="reading-origin" aria-live="polite">
        {value.text === '' ? '' : value.typed ? 'typed by hand' : 'as the instrument sent it'}
      </p>
    </div>
  );
}
