import type { UsedFor } from './books.ts';

/** One and several, as they are told. */
const names: Readonly<Record<UsedFor, readonly [one: string, several: string]>> = {
  run: ['run', 'runs'],
  'measurement of blanks': ['measurement', 'measurements'],
  hardness: ['hardness', 'hardnesses'],
  'grain size': ['grain size', 'grain sizes'],
  edge: ['edge', 'edges'],
  screening: ['screening', 'screenings'],
  'titrant factor': ['titrant factor', 'titrant factors'],
  weighing: ['weighing', 'weighings'],
};

/** How many of each, those that are held. */
export function countsOfHeld(
  held: readonly { readonly what: UsedFor }[],
): ReadonlyMap<UsedFor, number> {
  const counts = new Map<UsedFor, number>();
  for (const { what } of held) counts.set(what, (counts.get(what) ?? 0) + 1);
  return counts;
}

/** `2 runs, 1 screening and 4 weighings`, in the order of the names. */
export function wordsOfCounts(counts: ReadonlyMap<UsedFor, number>): string {
  const told = (Object.keys(names) as UsedFor[]).flatMap((what) => {
    const count = counts.get(what);
    return count ? [`${count} ${names[what][count === 1 ? 0 : 1]}`] : [];
  });
  if (told.length < 2) return told.join('');
  return `${told.slice(0, -1).join(', ')} and ${told.at(-1)}`;
}
