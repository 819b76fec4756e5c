import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { DecodedLine } from '../ports/instrument-dialect.ts';
import type { LineState, Measurement, StreamedCurve } from '../ports/instrument-line.ts';
import { useBenchChoice } from './bench-choice.ts';
import { CheckField } from './field.tsx';
import { useLiveEvent } from './live-updates.tsx';
import { read, type SentReading } from './plant-client.ts';
import { useReadingFields } from './scan-catcher.tsx';
import { State } from './state.tsx';

const linesKey = ['instrument-lines'] as const;

/** The instruments that are read on lines, as the server last said. */
function useInstrumentLines(): readonly LineState[] {
  const { data } = useQuery({
    queryKey: linesKey,
    queryFn: () => read<{ lines: readonly LineState[] }>('/api/instrument-lines'),
    staleTime: 60_000,
  });
  return data?.lines ?? [];
}

/** The instrument of this bench that measures that; nothing when none was chosen. */
export function useBenchInstrument(measures: Measurement): LineState | undefined {
  const [chosen] = useBenchChoice();
  const lines = useInstrumentLines();
  return chosen
    .toReversed()
    .flatMap(
      (id) => lines.find((line) => line.instrument === id && line.measures === measures) ?? [],
    )
    .at(0);
}

/** The line of one instrument, asked for again and again while its page is open. */
export function useInstrumentLine(instrument: string): LineState | undefined {
  const { data } = useQuery({
    queryKey: ['instrument-line', instrument],
    queryFn: () => read<LineState>(`/api/instruments/${encodeURIComponent(instrument)}/line`),
    refetchInterval: 2000,
    retry: false,
  });
  return data;
}

/** The curves that a titrator sent, the newest first; nothing while nobody asks or they are not told yet. */
export function useStreamedCurves(
  instrument: string | undefined,
): readonly StreamedCurve[] | undefined {
  const { data } = useQuery({
    queryKey: ['streamed-curves', instrument],
    queryFn: () =>
      read<{ curves: readonly StreamedCurve[] }>(
        `/api/instruments/${encodeURIComponent(instrument ?? '')}/curves`,
      ),
    enabled: instrument !== undefined,
    refetchInterval: 2000,
    retry: false,
  });
  return data?.curves;
}

/** Whether an instrument sends the points of titrations on a line of its own. */
export function useSendsCurves(instrument: string): boolean {
  return useInstrumentLines().some(
    (line) => line.instrument === instrument && line.measures === 'titration',
  );
}

/** Whether one instrument stands at this bench. */
export function StandsHere({ instrument }: { readonly instrument: string }) {
  const [chosen, choose] = useBenchChoice();
  return (
    <CheckField
      label="It stands at this bench: its print key fills the fields of this browser"
      checked={chosen.includes(instrument)}
      onChange={(isHere) => choose(instrument, isHere)}
    />
  );
}

/** How a line is, in a word. */
export function LineWord({ line }: { readonly line: LineState }) {
  if (line.state === 'connected') return <State word="connected" />;
  return <State word={line.state} tone={line.state === 'lost' ? 'look' : 'waits'} />;
}

/** Which instruments stand at this bench, so that their print keys fill its fields. */
export function BenchChoice() {
  const [chosen, choose] = useBenchChoice();
  const lines = useInstrumentLines();
  if (lines.length === 0) {
    return (
      <p className="faint">
        No instrument is read on a line of its own. Readings come as keystrokes.
      </p>
    );
  }
  return (
    <div className="bench-choice">
      <p className="field-hint">Their print keys fill the fields of this browser.</p>
      {lines.map((line) => (
        <div key={line.instrument} className="bench-choice-one">
          <CheckField
            label={`${line.title} (${line.instrument})`}
            checked={chosen.includes(line.instrument)}
            onChange={(isHere) => choose(line.instrument, isHere)}
          />
          <LineWord line={line} />
        </div>
      ))}
    </div>
  );
}

const noteMilliseconds = 12_000;

interface NoReading {
  readonly instrument: string;
  readonly raw: string;
  readonly decoded: DecodedLine;
}

function noReadingWords({ instrument, raw, decoded }: NoReading): string {
  switch (decoded.says) {
    case 'unstable':
      return `${instrument} sent a value that is not stable: it was not taken.`;
    case 'overload':
      return `${instrument} is out of its range.`;
    case 'not understood':
      return `${instrument} sent “${raw.trim()}”, which is not understood: ${decoded.why}.`;
    case 'stable':
    case 'point':
      return '';
  }
}

/**
 * Takes what the instruments of this bench send: a reading goes into the field that has the focus or
 * waits, and what fits no field is said. F8 asks the instrument for the reading of that field.
 */
export function BenchReadings() {
  const client = useQueryClient();
  const [chosen] = useBenchChoice();
  const fields = useReadingFields();
  const [note, setNote] = useState('');
  const now = useRef({ chosen, fields });
  now.current = { chosen, fields };

  useLiveEvent('instrument-reading', (data) => {
    const sent = data as SentReading & { readonly measures: Measurement };
    if (!now.current.chosen.includes(sent.instrument)) return;
    const isTaken = now.current.fields.fill(sent, sent.measures);
    const { text, unit } = sent.reading;
    setNote(isTaken ? '' : `${sent.instrument} sent ${text} ${unit}; no field waits for it.`);
  });
  useLiveEvent('instrument-no-reading', (data) => {
    const told = data as NoReading;
    if (now.current.chosen.includes(told.instrument)) setNote(noReadingWords(told));
  });
  useLiveEvent('instrument-state', () => {
    void client.invalidateQueries({ queryKey: linesKey });
    void client.invalidateQueries({ queryKey: ['instrument-line'] });
  });
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'F8' || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      now.current.fields.ask();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
  useEffect(() => {
    if (note === '') return;
    const timer = setTimeout(() => setNote(''), noteMilliseconds);
    return () => clearTimeout(timer);
  }, [note]);
  return (
    <p className="bench-note" role="status">
      {note}
    </p>
  );
}
