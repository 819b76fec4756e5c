import { createContext, useContext, useEffect, useState } from 'react';
import type { StreamedCurve } from '../../../../ports/instrument-line.ts';
import {
  ChoiceField,
  printDecimal,
  printInstant,
  printNumber,
  State,
  useSendsCurves,
  useStreamedCurves,
} from '../../../../workbench/index.ts';
import { curveOfStream, textOfStream } from './streamed-text.ts';
import { type CurveDraft, unconfirmed } from './titration-draft.ts';

/** The burette of the run in hand. */
export const BuretteAtHand = createContext('');

const next = 'next';

/** What a curve begins with that is collected. */
const fresh = { ...unconfirmed, fileName: '', potentialUnit: '', origin: 'line' } as const;

function curveWords({ begun, points }: StreamedCurve): string {
  const last = points.at(-1)?.volume ?? '0';
  return `begun ${printInstant(begun)}, ${printNumber(points.length)} points up to ${printDecimal(last)} mL`;
}

/** The curve of a vessel as its titrator sends it, point by point; nothing where none stands on a line. */
export function FromTitrator(props: {
  readonly label: string;
  readonly curve: CurveDraft;
  readonly onChange: (part: Partial<CurveDraft>) => void;
}) {
  const { label, curve, onChange } = props;
  const burette = useContext(BuretteAtHand);
  const [isChoosing, choose] = useState(false);
  const stream = curve.origin === 'line' ? curve.stream : undefined;
  const isSending = useSendsCurves(burette);
  const isAsked = isSending && (stream !== undefined || isChoosing);
  const curves = useStreamedCurves(isAsked ? burette : undefined);
  const own = stream && curves && curveOfStream(curves, stream);
  const text = own && textOfStream(own);
  useEffect(() => {
    if (!own || text === undefined || text === curve.text) return;
    const collected = { begun: own.begun, after: stream?.after ?? '' };
    onChange({ ...fresh, text, stream: collected });
  });
  if (!isSending) return null;
  const collect = (value: string) => {
    choose(false);
    const begun = value === next ? null : value;
    onChange({
      ...fresh,
      text: '',
      stream: { begun, after: curves?.[0]?.begun ?? '' },
    });
  };
  if (stream) {
    return (
      <p>
        {own
          ? `Collected from ${burette}: ${curveWords(own)}.`
          : `Waits for points from ${burette}.`}{' '}
        {own?.gap ? <State word={`A point may be missing: ${own.gap}.`} tone="look" /> : null}{' '}
        <button
          type="button"
          className="link-button"
          onClick={() => onChange({ stream: undefined })}
        >
          Stop collecting
        </button>
      </p>
    );
  }
  if (!isChoosing || !curves) {
    return (
      <button type="button" className="quiet-button" onClick={() => choose(true)}>
        Collect the curve of {label} from {burette}
      </button>
    );
  }
  return (
    <ChoiceField
      label={`Curve of ${label} from ${burette}`}
      value=""
      choices={[
        { value: next, label: 'the next one that begins' },
        ...curves.map((one) => ({ value: one.begun, label: curveWords(one) })),
      ]}
      onChange={collect}
    />
  );
}
