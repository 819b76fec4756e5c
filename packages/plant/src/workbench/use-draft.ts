import { useCallback, useState } from 'react';

function stored<Value extends object>(key: string, initial: Value): Value {
  try {
    const text = sessionStorage.getItem(key);
    return text === null ? initial : { ...initial, ...(JSON.parse(text) as Partial<Value>) };
  } catch {
    return initial;
  }
}

function store(key: string, value: object | undefined): void {
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
  const key = `cupel draft ${name}`;
  const [draft, setDraft] = useState<{ key: string; value: Value }>(() => ({
    key,
    value: stored(key, initial),
  }));
  const current = draft.key === key ? draft.value : stored(key, initial);
  const change = useCallback(
    (part: Partial<Value>) =>
      setDraft((before) => {
        const base = before.key === key ? before.value : stored(key, initial);
        const value = { ...base, ...part };
        store(key, value);
        return { key, value };
      }),
    // The initial value is often written in place and is a new object at each render.
    // biome-ignore lint/correctness/useExhaustiveDependencies: see above
    [key],
  );
  const clear = useCallback(() => {
    store(key, undefined);
    setDraft({ key, value: initial });
    // biome-ignore lint/correctness/useExhaustiveDependencies: as above
  }, [key]);
  return [current, change, clear];
}

/** Forgets every draft of this browser tab, so that the next person finds none. */
export function forgetDrafts(): void {
  for (const key of Object.keys(sessionStorage)) {
    if (key.startsWith('cupel draft ')) sessionStorage.removeItem(key);
  }
}
