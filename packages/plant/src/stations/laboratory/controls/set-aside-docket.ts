import type { BookReader } from '../../../journal/books.ts';
import { threads } from '../../../journal/core-books.ts';
import type { DocketPaper } from '../../../journal/station.ts';
import { type CountedDrum, drumsCountedByWeight } from '../../receiving/index.ts';
import { type HoldAnswerRow, holdAnswers } from './books.ts';
import { type Hold, holdsOf, isInside } from './holds.ts';

/** The entry that weighed the drum last. */
async function weighedEntry(books: BookReader, drum: string): Promise<number | undefined> {
  const rows = await books.select(threads, { prefix: ['drum', drum] });
  return rows.findLast(({ kind }) => kind === 'DrumWeighed')?.entry;
}

/** The answer that set a weighing aside; nothing where it stands or nobody has answered. */
async function setAsideBy(
  books: BookReader,
  holds: readonly Hold[],
  entry: number,
): Promise<HoldAnswerRow | undefined> {
  for (const hold of holds) {
    if (!isInside(hold, entry)) continue;
    const answer = await books.get(holdAnswers, hold.hold, entry);
    if (answer?.finding === 'set aside') return answer;
  }
  return undefined;
}

function drumPaper({ drum, melt, consignment, pieces }: CountedDrum, answer: HoldAnswerRow) {
  return {
    paper: `laboratory/set-aside/drum/${drum}`,
    station: 'laboratory',
    what: `The weighing of drum ${drum}, counted with ${pieces} pieces of melt ${melt}, was set aside.`,
    why: answer.reason,
    holdsUp: 'Its count rests on no weighing any more, and its pieces are about to be sampled.',
    act: 'Tally the drum',
    path: `/receiving/consignments/${encodeURIComponent(consignment)}`,
    since: answer.instant,
    weight: 'look',
  } satisfies DocketPaper;
}

/** The drums whose count rests on a weighing that was set aside, until they are counted by hand or sampled. */
export async function setAsideDocket(books: BookReader): Promise<readonly DocketPaper[]> {
  const holds = (await holdsOf(books)).filter(({ thing }) => thing === 'instrument');
  if (holds.length === 0) return [];
  const papers: DocketPaper[] = [];
  for (const drum of await drumsCountedByWeight(books)) {
    const entry = await weighedEntry(books, drum.drum);
    const answer = entry === undefined ? undefined : await setAsideBy(books, holds, entry);
    if (answer) papers.push(drumPaper(drum, answer));
  }
  return papers;
}
