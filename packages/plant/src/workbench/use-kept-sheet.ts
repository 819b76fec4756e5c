import { useEffect, useMemo, useRef, useSyncExternalStore } from 'react';
import { findSheet, forgetSheet, keepSheet, type SheetName } from './plant-client.ts';
import { useSession } from './session.tsx';
import { type SheetCopy, type SheetHere, SheetKeeper } from './sheet-keeper.ts';
import type { SheetInHand } from './sheet-kept.tsx';
import { draftPrefix, store, storedText } from './use-draft.ts';

/** The copy of a sheet in this browser tab. */
function sheetCopy<Value>(key: string): SheetCopy<Value> {
  return {
    read: () => {
      try {
        const text = storedText(key);
        return text === null ? undefined : (JSON.parse(text) as SheetHere<Value>);
      } catch {
        return undefined;
      }
    },
    write: (here) => store(key, here),
  };
}

const copyKey = ({ person, command, thing }: SheetName): string =>
  `${draftPrefix}sheet ${person} ${command} ${thing}`;

/** Puts a sheet away, at the plant and in this browser. */
export async function putSheetAway(name: SheetName): Promise<void> {
  await forgetSheet(name);
  store(copyKey(name), undefined);
}

/**
 * What has been typed for a command on a thing and not been recorded yet, kept by the plant for the
 * person who types it: it is there on return, on another device too, and after the server was
 * killed. While the plant cannot be reached it is kept in the browser. `clear` empties it once it
 * is recorded. Never for passwords. Show `SheetKept` beside it.
 */
export function useKeptSheet<Value extends object>(
  sheet: { readonly command: string; readonly thing: string },
  initial: Value,
): readonly [Value, (change: Partial<Value>) => void, () => void, SheetInHand] {
  const { command, thing } = sheet;
  const person = useSession().session?.person.person ?? '';
  const start = useRef(initial);
  start.current = initial;
  const keeper = useMemo(() => {
    const name = { person, command, thing };
    const place = {
      find: () => findSheet(name),
      keep: (kept: { readonly revision: number; readonly value: object }) => keepSheet(name, kept),
      forget: () => forgetSheet(name),
    };
    const copy = sheetCopy<Value>(copyKey(name));
    return new SheetKeeper<Value>(place, copy, start.current);
  }, [person, command, thing]);
  useEffect(() => {
    keeper.open();
    return () => keeper.close();
  }, [keeper]);
  const [value, kept] = useSyncExternalStore(keeper.subscribe, keeper.snapshot);
  const acts = useMemo(
    () => ({
      change: (part: Partial<Value>) => keeper.change(part),
      clear: () => keeper.clear(),
      takeOther: () => keeper.takeOther(),
      keepThis: () => keeper.keepThis(),
    }),
    [keeper],
  );
  return [value, acts.change, acts.clear, { ...acts, kept }];
}
