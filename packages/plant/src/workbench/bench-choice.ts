import { useSyncExternalStore } from 'react';

const key = 'cupel bench instruments';
const listeners = new Set<() => void>();
let chosen: readonly string[] | undefined;

function stored(): readonly string[] {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(key) ?? '[]');
    return Array.isArray(value) ? value.filter((one) => typeof one === 'string') : [];
  } catch {
    return [];
  }
}

function present(): readonly string[] {
  chosen ??= stored();
  return chosen;
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Says whether an instrument stands at this bench; this browser remembers it. */
function choose(instrument: string, isHere: boolean): void {
  const others = present().filter((one) => one !== instrument);
  chosen = isHere ? [...others, instrument] : others;
  try {
    localStorage.setItem(key, JSON.stringify(chosen));
  } catch {
    // Without storage the choice lasts as long as the page.
  }
  for (const listener of listeners) listener();
}

/** The instruments that stand at this bench, the one chosen last at the end. */
export function useBenchChoice(): readonly [
  chosen: readonly string[],
  choose: (instrument: string, isHere: boolean) => void,
] {
  return [useSyncExternalStore(subscribe, present), choose];
}
