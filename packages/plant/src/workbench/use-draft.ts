import { useCallback, useRef, useState } from 'react';

/** With this begins the name of everything that `forgetDrafts` forgets. */
export const draftPrefix = 'cupel draft ';

/** What the browser holds under a name; nothing where it holds nothing or may not be asked. */
export function storedText(key: string): string | null {
  try {
    return sessionStorage.getItem(key);
  } catch {
    return null;
  }
}

function stored<Value extends object>(key: string, initial: Value): Value {
  try {
    const text = storedText(key);
    return text === null ? initial : { ...initial, ...(JSON.parse(text) as Partial<Value>) };
  } catch {
    return initial;
  }
}

/** Keeps a value in the browser; nothing empties its place. */
export function store(key: string, value: object | undefined): void {
  try {
    if (value === undefined) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, JSON.stringify(value));
  } catch {
    // A full or forbidden storage only costs the draft its survival of a reload.
  }
}

/**
 * What has been typed on a page and not been recorded yet. It outlives leaving the page, a reload
 * and the end of the session; `clear` empties it once it is recorded. Never for passwords.
 */
export function useDraft<Value extends object>(
  name: string,
  initial: Value,
): readonly [Value, (change: Partial<Value>) => void, () => void] {
  const key = `${draftPrefix}${name}`;
  // The initial value is often written in place, and is then a new object at each render.
  const start = useRef(initial);
  start.current = initial;
  const [draft, setDraft] = useState(() => ({ key, value: stored(key, initial) }));
  const value = draft.key === key ? draft.value : stored(key, initial);
  const now = useRef(value);
  now.current = value;
  const change = useCallback(
    (part: Partial<Value>) => {
      // Changes that follow each other within one event build on each other.
      now.current = { ...now.current, ...part };
      store(key, now.current);
      setDraft({ key, value: now.current });
    },
    [key],
  );
  const clear = useCallback(() => {
    store(key, undefined);
    now.current = start.current;
    setDraft({ key, value: start.current });
  }, [key]);
  return [value, change, clear];
}

/** Forgets every draft of this browser tab, so that the next person finds none. */
export function forgetDrafts(): void {
  for (const key of Object.keys(sessionStorage)) {
    if (key.startsWith(draftPrefix)) sessionStorage.removeItem(key);
  }
}
