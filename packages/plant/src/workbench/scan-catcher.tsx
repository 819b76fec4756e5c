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
import { goOn } from './form-order.ts';
import { Keystrokes } from './keystrokes.ts';
import { noteHand } from './plant-client.ts';

interface Receiver {
  readonly element: RefObject<HTMLElement | null>;
  readonly isEmpty: boolean;
  readonly receive: (text: string) => void;
}

interface Catcher {
  readonly waiting: string | undefined;
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

  const catcher = useMemo(
    () => ({ waiting, register, unregister }),
    [waiting, register, unregister],
  );
  return <CatcherContext value={catcher}>{props.children}</CatcherContext>;
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
}): boolean {
  const catcher = useContext(CatcherContext);
  const id = useId();
  const { element, scans, isEmpty } = options;
  const receive = useRef(options.receive);
  receive.current = options.receive;
  const register = catcher?.register;
  const unregister = catcher?.unregister;
  useEffect(() => {
    if (!scans || !register || !unregister) return;
    register(id, { element, isEmpty, receive: (text) => receive.current(text) });
    return () => unregister(id);
  }, [scans, isEmpty, id, element, register, unregister]);
  return scans && catcher?.waiting === id;
}
