import type { BookReader } from '../../../journal/books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { isClosed } from '../stage.ts';
import { type HeldUse, type Hold, heldUses, holdsOf } from './holds.ts';

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

const meltsOf = (held: readonly HeldUse[]): readonly string[] => [
  ...new Set(held.map((use) => use.melt)),
];

function holdPaper(hold: Hold, held: readonly HeldUse[]): DocketPaper {
  const runs = held.filter((use) => use.assayRun !== null).length;
  const measurements = held.length - runs;
  const ruled = held.filter((use) => use.trial && isClosed(use.trial));
  const open = meltsOf(held.filter((use) => !ruled.includes(use)));
  const doubt = [
    ...(runs > 0 ? [counted(runs, 'run')] : []),
    ...(measurements > 0 ? [counted(measurements, 'measurement')] : []),
  ].join(' and ');
  const released =
    ruled.length > 0 ? ` Already released on them: ${meltsOf(ruled).join(', ')}.` : '';
  return {
    paper: `laboratory/hold/${hold.hold}`,
    station: 'laboratory',
    what: `${doubt} in doubt: ${hold.words}`,
    why: `They were made before it was found.${released}`,
    holdsUp:
      open.length > 0
        ? `Signing, checking and release of ${open.join(', ')}.`
        : 'Nothing that is not ruled on.',
    act: 'Answer for runs in doubt',
    path: `/laboratory/holds/${encodeURIComponent(hold.hold)}`,
    since: hold.since,
    weight: 'stopped',
  };
}

/** The holds that wait for the chief assayer's word. */
export async function holdDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const papers: DocketPaper[] = [];
  for (const hold of await holdsOf(books)) {
    const held = await heldUses(books, hold);
    if (held.length > 0) papers.push(holdPaper(hold, held));
  }
  return papers;
}
