import {
  createContext,
  type ReactNode,
  type RefObject,
  useCallback,
  useContext,
  useEffect,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Measurement } from '../ports/instrument-line.ts';
import { goOn } from './form-order.ts';
import { Keystrokes } from './keystrokes.ts';
import { noteHand, type SentReading } from './plant-client.ts';

/** What a field does with readings that come by an instrument's line. */
interface ReadingReceiver {
  readonly measures: Measurement;
  readonly fill: (sent: SentReading) => void;
  /** Whether an instrument of this bench can be asked for it. */
  readonly canAsk: boolean;
  readonly ask: () => void;
}

interface Receiver {
  readonly element: RefObject<HTMLElement | null>;
  readonly isEmpty: boolean;
  readonly receive: (text: string) => void;
  readonly reading: ReadingReceiver | undefined;
}

/** The fields of the page that take readings. */
interface ReadingFields {
  /** Fills the field that has the focus, else the first empty one that fits; false where none does. */
  fill(sent: SentReading, measures: Measurement): boolean;
  /** Asks for the reading of the field that has the focus, else of the first empty one. */
  ask(): void;
}

interface Catcher {
  readonly waiting: string | undefined;
  readonly readings: ReadingFields;
  register(id: string, receiver: Receiver): void;
  unregister(id: string): void;
}

const CatcherContext = createContext<Catcher | undefined>(undefined);

function standsBefore(left: Receiver, right: Receiver): number {
  const [a, b] = [left.element.current, right.element.current];
  if (!a || !b) return 0;
  return a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1;
}

/** The field that waits: the first empty one on the page. */
function waitingId(receivers: ReadonlyMap<string, Receiver>): string | undefined {
  const empty = [...receivers].filter(([, receiver]) => receiver.isEmpty);
  return empty.sort(([, left], [, right]) => standsBefore(left, right))[0]?.[0];
}

/** The field that a reading goes to: the one that has the focus, else the first empty one that fits. */
function readingField(
  receivers: ReadonlyMap<string, Receiver>,
  fits: (reading: ReadingReceiver) => boolean,
): Receiver | undefined {
  if (document.querySelector('dialog[open]')) return undefined;
  const fitting = [...receivers.values()].filter(({ reading }) => reading && fits(reading));
  const focused = fitting.find(({ element }) => element.current === document.activeElement);
  return focused ?? fitting.filter(({ isEmpty }) => isEmpty).sort(standsBefore)[0];
}

function isTextEntry(element: Element | null): boolean {
  if (element instanceof HTMLTextAreaElement) return true;
  return element instanceof HTMLInputElement && !['radio', 'checkbox'].includes(element.type);
}

/**
 * Catches what scanners and balances send as keystrokes: a fast run of characters that ends in
 * Enter. It fills the field that has the focus, else the field that waits; where none waits, the
 * lineage of what was scanned opens.
 */
export function ScanCatcher(props: {
  readonly children: ReactNode;
  readonly onCode: (code: string) => void;
}) {
  const receivers = useRef(new Map<string, Receiver>());
  const [waiting, setWaiting] = useState<string | undefined>(undefined);
  const onCode = useRef(props.onCode);
  onCode.current = props.onCode;

  const register = useCallback((id: string, receiver: Receiver) => {
    receivers.current.set(id, receiver);
    setWaiting(waitingId(receivers.current));
  }, []);
  const unregister = useCallback((id: string) => {
    receivers.current.delete(id);
    setWaiting(waitingId(receivers.current));
  }, []);

  useEffect(() => {
    const keystrokes = new Keystrokes();
    const deliver = (event: KeyboardEvent, text: string) => {
      const focused = document.activeElement;
      const all = receivers.current;
      const own = [...all.values()].find((receiver) => receiver.element.current === focused);
      if (!own && isTextEntry(focused)) return;
      event.preventDefault();
      event.stopPropagation();
      const next = own ?? all.get(waitingId(all) ?? '');
      if (!next || document.querySelector('dialog[open]')) {
        onCode.current(text);
        return;
      }
      next.receive(text);
      if (next.element.current) goOn(next.element.current);
    };
    const onKey = (event: KeyboardEvent) => {
      noteHand();
      const text = keystrokes.take(event);
      if (text !== undefined) deliver(event, text);
    };
    window.addEventListener('keydown', onKey, true);
    window.addEventListener('pointerdown', noteHand, true);
    return () => {
      window.removeEventListener('keydown', onKey, true);
      window.removeEventListener('pointerdown', noteHand, true);
    };
  }, []);

  const readings = useMemo<ReadingFields>(
    () => ({
      fill: (sent, measures) => {
        const field = readingField(receivers.current, (one) => one.measures === measures);
        // Whoever pressed the print key is at work.
        if (field) noteHand();
        field?.reading?.fill(sent);
        if (field?.element.current) goOn(field.element.current);
        return field !== undefined;
      },
      ask: () => readingField(receivers.current, (one) => one.canAsk)?.reading?.ask(),
    }),
    [],
  );
  const catcher = useMemo(
    () => ({ waiting, readings, register, unregister }),
    [waiting, readings, register, unregister],
  );
  return <CatcherContext value={catcher}>{props.children}</CatcherContext>;
}

/** The fields of the page that take readings of instruments on lines. */
export function useReadingFields(): ReadingFields {
  const catcher = useContext(CatcherContext);
  if (!catcher) throw new Error('useReadingFields stands outside of ScanCatcher');
  return catcher.readings;
}

/**
 * Makes a field one that scans and weights can fill. Answers whether it is the one that waits now.
 */
export function useReceiver(options: {
  readonly element: RefObject<HTMLElement | null>;
  /** False for fields that are only typed. */
  readonly scans: boolean;
  readonly isEmpty: boolean;
  readonly receive: (text: string) => void;
  /** For a field that takes readings of instruments on lines. */
  readonly reading?: ReadingReceiver;
}): boolean {
  const catcher = useContext(CatcherContext);
  const id = useId();
  const { element, scans, isEmpty } = options;
  const now = useRef(options);
  now.current = options;
  const { measures, canAsk = false } = options.reading ?? {};
  const register = catcher?.register;
  const unregister = catcher?.unregister;
  useEffect(() => {
    if (!scans || !register || !unregister) return;
    const reading = measures && {
      measures,
      canAsk,
      fill: (sent: SentReading) => now.current.reading?.fill(sent),
      ask: () => now.current.reading?.ask(),
    };
    register(id, { element, isEmpty, receive: (text) => now.current.receive(text), reading });
    return () => unregister(id);
  }, [scans, isEmpty, measures, canAsk, id, element, register, unregister]);
  return scans && catcher?.waiting === id;
}
