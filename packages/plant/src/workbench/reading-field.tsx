import { useRef } from 'react';
import { useBenchInstrument } from './bench-instruments.tsx';
import { Field } from './field.tsx';
import { goOn } from './form-order.ts';
import { readingIn } from './keystrokes.ts';
import { localDecimalSign } from './number-text.ts';
import type { SentReading } from './plant-client.ts';
import { measurementOf, originWords, type ReadingDraft, sentDraft } from './reading-draft.ts';
import { useReceiver } from './scan-catcher.tsx';
import { type Taking, useTaking } from './use-taking.ts';

interface ReadingFieldProps {
  readonly label: string;
  readonly value: ReadingDraft;
  readonly onChange: (value: ReadingDraft) => void;
  /** Told which instrument sent the reading, so that the page can name it. */
  readonly onInstrument?: ((instrument: string) => void) | undefined;
  readonly large?: boolean;
  readonly hint?: string | undefined;
  readonly refusal?: string | undefined;
  readonly optional?: boolean;
}

/**
 * A reading of an instrument. A balance that sends keystrokes, or that stands at this bench on a line
 * of its own, fills it and it stands as sent; what a hand types is marked as typed. `large` shows it
 * so that it is read at two metres.
 */
export function ReadingField(props: ReadingFieldProps) {
  const { value, label, hint } = props;
  const element = useRef<HTMLInputElement>(null);
  const measures = measurementOf(value.unit);
  const bench = useBenchInstrument(measures);
  const fill = (sent: SentReading) => {
    change(sentDraft(sent));
    props.onInstrument?.(sent.instrument);
  };
  const taking = useTaking(bench?.instrument, (sent) => {
    fill(sent);
    if (element.current) goOn(element.current);
  });
  const change = (next: ReadingDraft) => {
    taking.forget();
    props.onChange(next);
  };
  const receive = (sent: string) => {
    const reading = readingIn(sent);
    const unit = (reading?.unit ?? value.unit) as ReadingDraft['unit'];
    if (reading) change({ text: reading.text, unit, typed: false });
    else change({ text: sent, unit: value.unit, typed: true });
  };
  const waits = useReceiver({
    element,
    scans: true,
    isEmpty: value.text === '',
    receive,
    reading: { measures, fill, canAsk: bench !== undefined, ask: taking.take },
  });
  const refusal = props.refusal ?? taking.problem;
  const shown = value.typed ? value.text : value.text.replace('.', localDecimalSign());
  return (
    <div className={`reading${props.large ? ' reading-large' : ''}`}>
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
            onChange={({ target }) => change({ text: target.value, unit: value.unit, typed: true })}
          />
        )}
      </Field>
      <div className="reading-foot">
        <p className="reading-origin" aria-live="polite">
          {originWords(value)}
        </p>
        {bench ? <TakeButton title={bench.title} label={label} taking={taking} /> : null}
      </div>
    </div>
  );
}

function TakeButton(props: {
  readonly title: string;
  readonly label: string;
  readonly taking: Taking;
}) {
  const { title, label, taking } = props;
  const words = taking.isAsking ? `Waiting for ${title} …` : `Take from ${title}`;
  return (
    <button
      type="button"
      className="reading-take"
      aria-label={`${words}: ${label}`}
      aria-keyshortcuts="F8"
      aria-disabled={taking.isAsking}
      onClick={taking.take}
    >
      {words}
    </button>
  );
}
