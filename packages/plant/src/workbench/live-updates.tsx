import { useQueryClient } from '@tanstack/react-query';
import { createContext, type ReactNode, useContext, useEffect, useRef, useState } from 'react';

const LiveContext = createContext(true);
const SourceContext = createContext<EventSource | undefined>(undefined);

/** Whether the plant's server is in touch, so that what is shown is so now. */
export function useIsInTouch(): boolean {
  return useContext(LiveContext);
}

/** Calls back whenever the server tells of that by its name, with what it tells. */
export function useLiveEvent(name: string, onEvent: (data: unknown) => void): void {
  const source = useContext(SourceContext);
  const handler = useRef(onEvent);
  handler.current = onEvent;
  useEffect(() => {
    const listener = (event: MessageEvent<string>) => handler.current(JSON.parse(event.data));
    source?.addEventListener(name, listener);
    return () => source?.removeEventListener(name, listener);
  }, [source, name]);
}

/** How long entries are gathered before the open questions are asked again. */
const gatherMilliseconds = 150;

/** Asks the open questions again whenever anyone records anything. */
export function LiveUpdates({ children }: { readonly children: ReactNode }) {
  const client = useQueryClient();
  const [isInTouch, setIsInTouch] = useState(true);
  const [events, setEvents] = useState<EventSource | undefined>(undefined);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const askAgain = () => {
      timer ??= setTimeout(() => {
        timer = undefined;
        void client.invalidateQueries({ queryKey: ['question'] });
      }, gatherMilliseconds);
    };
    const source = new EventSource('/api/events');
    setEvents(source);
    let wasLost = false;
    source.onopen = () => {
      setIsInTouch(true);
      // What was recorded while the stream was broken was not told.
      if (wasLost) askAgain();
      wasLost = false;
    };
    source.onerror = () => {
      wasLost = true;
      setIsInTouch(false);
      void client.invalidateQueries({ queryKey: ['session'] });
    };
    source.onmessage = askAgain;
    return () => {
      source.close();
      clearTimeout(timer);
    };
  }, [client]);
  return (
    <LiveContext value={isInTouch}>
      <SourceContext value={events}>{children}</SourceContext>
    </LiveContext>
  );
}
