import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { isClosed } from '../stage.ts';
import { answeredHolds } from './books.ts';
import { type HeldUse, heldUses } from './held-uses.ts';
import { countsOfHeld, wordsOfCounts } from './hold-words.ts';
import { type Hold, holdsOf } from './holds.ts';

const meltsOf = (held: readonly HeldUse[]): readonly string[] => [
  ...new Set(held.map((use) => use.melt).filter((melt) => melt !== '')),
];

/** Something that the doubt stops: a melt that is not ruled on yet. */
const isOpen = (use: HeldUse): boolean =>
  use.what !== 'weighing' && use.melt !== '' && !(use.trial && isClosed(use.trial));

function holdsUpWords(held: readonly HeldUse[]): string {
  const open = meltsOf(held.filter(isOpen));
  const waits = [
    ...(open.length > 0 ? [`Signing, checking and release of ${open.join(', ')}.`] : []),
    ...(held.some((use) => use.what === 'titrant factor') ? ['Runs by that factor.'] : []),
    ...(held.some((use) => use.of.thing === 'tube') ? ['The packing of the tubes.'] : []),
  ];
  return waits.length > 0 ? waits.join(' ') : 'Nothing that is not ruled on.';
}

function holdPaper(hold: Hold, held: readonly HeldUse[]): DocketPaper {
  const ruled = meltsOf(
    held.filter((use) => use.what !== 'weighing' && use.trial && isClosed(use.trial)),
  );
  const released = ruled.length > 0 ? ` Already released on them: ${ruled.join(', ')}.` : '';
  return {
    paper: `laboratory/hold/${hold.hold}`,
    station: 'laboratory',
    what: `${wordsOfCounts(countsOfHeld(held))} in doubt: ${hold.words}`,
    why: `They were made before it was found.${released}`,
    holdsUp: holdsUpWords(held),
    act: 'Answer for results in doubt',
    path: `/laboratory/holds/${encodeURIComponent(hold.hold)}`,
    since: hold.since,
    weight: held.some(isOpen) ? 'stopped' : 'look',
  };
}

/** The holds that wait for the chief assayer's word. */
export async function holdDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const hold of await holdsOf(books)) {
    if (await books.get(answeredHolds, hold.hold)) continue;
    const held = await heldUses(books, hold);
    if (held.length > 0) papers.push(holdPaper(hold, held));
  }
  return papers;
}
