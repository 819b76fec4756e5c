import { type ReactNode, useId, useRef } from 'react';
import { useReceiver } from './scan-catcher.tsx';

interface FieldFrameProps {
  readonly label: string;
  readonly hint?: string | undefined;
  /** Why the plant refused what stands here, or why it cannot be sent. */
  readonly refusal?: string | undefined;
  readonly unit?: string | undefined;
  readonly waits?: boolean;
  readonly optional?: boolean | undefined;
  readonly children: (ids: { id: string; describedBy: string | undefined }) => ReactNode;
}

/** The frame of every field: label above, unit beside, hint and refusal below. */
export function Field(props: FieldFrameProps) {
  const id = useId();
  const { hint, refusal } = props;
  const described = [hint && `${id}-hint`, refusal && `${id}-refusal`].filter(Boolean).join(' ');
  return (
    <div className={`field${props.waits ? ' field-waits' : ''}${refusal ? ' field-refused' : ''}`}>
      <label htmlFor={id}>
        {props.label}
        {props.optional ? <span className="faint"> (may stay empty)</span> : null}
        {props.waits ? <span className="waits-word"> waits</span> : null}
      </label>
      <div className="field-entry">
        {props.children({ id, describedBy: described || undefined })}
        {props.unit ? <span className="field-unit">{props.unit}</span> : null}
      </div>
      {hint ? (
        <p className="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      ) : null}
      {refusal ? (
        <p className="field-refusal" id={`${id}-refusal`}>
          {refusal}
        </p>
      ) : null}
    </div>
  );
}

/** What is typed or scanned into a field, and how wide it is. */
export type TextKind = 'text' | 'code' | 'whole number' | 'decimal' | 'date' | 'password' | 'long';

const modes = {
  text: 'text',
  code: 'text',
  'whole number': 'numeric',
  decimal: 'decimal',
  date: 'text',
  password: 'text',
  long: 'text',
} as const;

/** A field of text, a code to scan, a number or a date. `code` fields take scans. */
export function TextField(props: {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly kind?: TextKind;
  /** Whether a scan can fill it; by itself true for codes. */
  readonly scans?: boolean;
  readonly hint?: string | undefined;
  readonly refusal?: string | undefined;
  readonly unit?: string | undefined;
  readonly optional?: boolean | undefined;
  readonly autoComplete?: string;
  readonly autoFocus?: boolean;
  readonly disabled?: boolean;
}) {
  const { value, onChange, kind = 'text', label, hint, refusal, unit, optional } = props;
  const element = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
  const scans = (props.scans ?? kind === 'code') && !props.disabled;
  const waits = useReceiver({ element, scans, isEmpty: value === '', receive: onChange });
  return (
    <Field {...{ label, hint, refusal, unit, waits, optional }}>
      {({ id, describedBy }) => {
        const shared = {
          id,
          ref: element,
          value,
          'aria-describedby': describedBy,
          'aria-invalid': refusal ? true : undefined,
          disabled: props.disabled,
          autoFocus: props.autoFocus,
        };
        return kind === 'long' ? (
          <textarea {...shared} rows={4} onChange={(event) => onChange(event.target.value)} />
        ) : (
          <input
            {...shared}
            className={`entry-${kind.replace(' ', '-')}`}
            type={kind === 'password' ? 'password' : kind === 'date' ? 'date' : 'text'}
            inputMode={modes[kind]}
            autoComplete={props.autoComplete ?? 'off'}
            spellCheck={false}
            onChange={(event) => onChange(event.target.value)}
          />
        );
      }}
    </Field>
  );
}

/** One of a few words: laid open up to four of them, folded beyond. */
export function ChoiceField<Value extends string>(props: {
  readonly label: string;
  readonly value: Value | '';
  readonly choices: readonly { readonly value: Value; readonly label: string }[];
  readonly onChange: (value: Value) => void;
  readonly hint?: string | undefined;
  readonly refusal?: string | undefined;
}) {
  return props.choices.length <= 4 ? <OpenChoice {...props} /> : <FoldedChoice {...props} />;
}

type ChoiceProps<Value extends string> = Parameters<typeof ChoiceField<Value>>[0];

function OpenChoice<Value extends string>(props: ChoiceProps<Value>) {
  const name = useId();
  const { refusal, hint } = props;
  return (
    <fieldset className={`field choice${refusal ? ' field-refused' : ''}`}>
      <legend>{props.label}</legend>
      <div className="choice-row">
        {props.choices.map((choice) => (
          <label key={choice.value} className="choice-one">
            <input
              type="radio"
              name={name}
              value={choice.value}
              checked={props.value === choice.value}
              onChange={() => props.onChange(choice.value)}
            />
            <span>{choice.label}</span>
          </label>
        ))}
      </div>
      {hint ? <p className="field-hint">{hint}</p> : null}
      {refusal ? <p className="field-refusal">{refusal}</p> : null}
    </fieldset>
  );
}

function FoldedChoice<Value extends string>(props: ChoiceProps<Value>) {
  const { label, hint, refusal } = props;
  return (
    <Field {...{ label, hint, refusal }}>
      {({ id, describedBy }) => (
        <select
          id={id}
          aria-describedby={describedBy}
          value={props.value}
          onChange={(event) => props.onChange(event.target.value as Value)}
        >
          {props.value === '' ? <option value="">choose</option> : null}
          {props.choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

/** A statement that the hand confirms. */
export function CheckField(props: {
  readonly label: string;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
  readonly refusal?: string | undefined;
}) {
  return (
    <div className={`field check${props.refusal ? ' field-refused' : ''}`}>
      <label>
        <input
          type="checkbox"
          checked={props.checked}
          onChange={(event) => props.onChange(event.target.checked)}
        />
        <span>{props.label}</span>
      </label>
      {props.refusal ? <p className="field-refusal">{props.refusal}</p> : null}
    </div>
  );
}

/** Fields side by side while there is room. */
export function FieldRow({ children }: { readonly children: ReactNode }) {
  return <div className="field-row">{children}</div>;
}

/** Fields that belong together, under a heading. */
export function FieldGroup(props: { readonly title: string; readonly children: ReactNode }) {
  return (
    <fieldset className="field-group">
      <legend>{props.title}</legend>
      {props.children}
    </fieldset>
  );
}
