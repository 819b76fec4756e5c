import type { BookReader } from '../../journal/books.ts';
import { threads } from '../../journal/core-books.ts';
import { seals } from './books.ts';
import { portions } from './portions/books.ts';

/** What bears, or bore, a seal. */
export interface SealHolder {
  readonly thing: 'drum' | 'portion' | 'entry';
  readonly id: string;
}

/** Acts that name a seal which they only found; it was given, or documented, by another act. */
const onlyFound = ['DrumWeighed', 'DrumStopped', 'DrumAdmitted'];

/** Where a seal number has been used in the plant: on a drum, a portion, or elsewhere, as on a box. */
export async function sealHolder(books: BookReader, seal: string): Promise<SealHolder | undefined> {
  const drum = await books.get(seals, seal);
  if (drum) return { thing: 'drum', id: drum.drum };
  const [portion] = await books.select(portions, { by: 'bySeal', prefix: [seal], limit: 1 });
  if (portion) return { thing: 'portion', id: portion.portion };
  const told = await books.select(threads, { prefix: ['seal', seal] });
  const other = told.find(({ kind }) => !onlyFound.includes(kind));
  return other && { thing: 'entry', id: String(other.entry) };
}

/** Where the seal was, in words. */
export function sealWords(seal: string, { thing, id }: SealHolder): string {
  return thing === 'entry'
    ? `Seal ${seal} was used in entry ${id}.`
    : `Seal ${seal} was on ${thing} ${id}.`;
}
