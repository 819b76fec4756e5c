import { folded } from '../tables/number-form.ts';

/** One of many things that are found by their words. */
export interface Searched {
  readonly value: string;
  readonly label: string;
  /** What it is for. */
  readonly purpose: string;
  readonly source: string;
}

const isSaid = (text: string, said: string): boolean => folded(text).trim() === folded(said).trim();

/** The one that was named in full, by its label or as scanned; nothing while the text is a part. */
export function namedIn(all: readonly Searched[], text: string): Searched | undefined {
  return all.find(({ value, label }) => isSaid(label, text) || isSaid(value, text));
}

/** Those that have every word of the text somewhere; all of them for none. */
export function searchedIn(all: readonly Searched[], text: string): readonly Searched[] {
  const words = folded(text).split(/\s+/).filter(Boolean);
  return all.filter(({ value, label, purpose, source }) => {
    const said = folded(`${value} ${label} ${purpose} ${source}`);
    return words.every((word) => said.includes(word));
  });
}
