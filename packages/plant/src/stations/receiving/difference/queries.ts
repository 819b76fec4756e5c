import type { BookReader } from '../../../journal/books.ts';
import { type Consignment, consignments, drums } from '../books.ts';
import { type Difference, type DifferenceLine, differenceLines, differences } from './books.ts';

/** Differences of a consignment that stand in no document yet. */
export interface OpenDifferences {
  readonly consignment: Consignment;
  /** In the order of drums, then melts. */
  readonly lines: readonly DifferenceLine[];
  /** True once no drum of it waits to be weighed, counted or decided on. */
  readonly isReady: boolean;
  /** Since when the first of them is open. */
  readonly since: string;
}

async function isReady(books: BookReader, { consignment, state }: Consignment): Promise<boolean> {
  if (state !== 'announced') return true;
  const own = await books.select(drums, { by: 'byConsignment', prefix: [consignment] });
  return own.every((drum) => ['counted', 'tallied', 'returned'].includes(drum.state));
}

/** What is open, consignment by consignment. */
export async function openDifferences(books: BookReader): Promise<readonly OpenDifferences[]> {
  const lines = await books.select(differenceLines, { by: 'byState', prefix: ['open'] });
  const found: OpenDifferences[] = [];
  for (const id of new Set(lines.map(({ consignment }) => consignment))) {
    const consignment = await books.get(consignments, id);
    if (!consignment) continue;
    const own = lines.filter((line) => line.consignment === id);
    const since = own.map((line) => line.since).toSorted()[0] ?? '';
    const ready = await isReady(books, consignment);
    found.push({ consignment, lines: own, isReady: ready, since });
  }
  return found.toSorted((one, other) => one.since.localeCompare(other.since));
}

/** Every line of a consignment that differs or did, raised or not. */
export async function linesOfConsignment(
  books: BookReader,
  consignment: string,
): Promise<readonly DifferenceLine[]> {
  const lines = await books.select(differenceLines, { by: 'byConsignment', prefix: [consignment] });
  return lines.filter(({ state }) => state !== 'none');
}

/** Documents that wait for an answer or to be settled, oldest first. */
export async function unsettledDifferences(books: BookReader): Promise<readonly Difference[]> {
  const inState = (state: Difference['state']) =>
    books.select(differences, { by: 'byState', prefix: [state] });
  const all = [...(await inState('raised')), ...(await inState('answered'))];
  return all.toSorted((one, other) => one.number - other.number);
}

/** Whether something about the melt is open between plant and supplier. */
export async function isMeltInDispute(books: BookReader, melt: string): Promise<boolean> {
  const line = await books.get(differenceLines, 'melt', melt);
  return line?.state === 'open' || line?.state === 'raised';
}
