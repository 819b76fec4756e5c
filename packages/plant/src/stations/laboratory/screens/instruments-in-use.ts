import type { DeskInstrument } from './trial-answer.ts';

/** The instruments of those kinds whose readings count today, and what is to be said of the others. */
export function instrumentsInUse(
  instruments: readonly DeskInstrument[],
  kinds: readonly string[],
): { readonly fit: readonly DeskInstrument[]; readonly others: string | undefined } {
  const asked = instruments.filter(({ kind }) => kinds.includes(kind));
  const others = asked.flatMap(({ outOfUse }) => outOfUse ?? []);
  return {
    fit: asked.filter(({ outOfUse }) => outOfUse === null),
    others: others.length === 0 ? undefined : others.join(' '),
  };
}
