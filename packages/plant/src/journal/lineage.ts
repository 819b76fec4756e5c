import type { BookReader } from './books.ts';
import { descents, threads } from './core-books.ts';
import type { Thing } from './entry.ts';

/** A thing with how many steps lie between it and the thing asked for. */
interface Relative extends Thing {
  readonly depth: number;
}

/** One thing that came out of another, and the entry that says so. */
interface RecordedDescent {
  readonly parent: Thing;
  readonly child: Thing;
  readonly entry: number;
}

/** What a thing came out of and what came out of it. */
export interface Kinship {
  readonly ancestors: readonly Relative[];
  readonly descendants: readonly Relative[];
  readonly descents: readonly RecordedDescent[];
  /** True when there are more relatives than were asked for. */
  readonly isCut: boolean;
}

/** So many relatives are followed in each direction. */
const greatestKinship = 2000;

const nameOf = ({ thing, id }: Thing): string => `${thing}\n${id}`;

async function stepsFrom(
  books: BookReader,
  of: Thing,
  direction: 'up' | 'down',
): Promise<readonly RecordedDescent[]> {
  const prefix = [of.thing, of.id];
  const rows =
    direction === 'down'
      ? await books.select(descents, { prefix, limit: greatestKinship })
      : await books.select(descents, { by: 'byChild', prefix, limit: greatestKinship });
  return rows.map((row) => ({
    parent: { thing: row.parentThing, id: row.parentId },
    child: { thing: row.childThing, id: row.childId },
    entry: row.entry,
  }));
}

/** Walks breadth first in one direction, each thing once. */
async function walk(
  books: BookReader,
  start: Thing,
  direction: 'up' | 'down',
): Promise<{ relatives: Relative[]; steps: RecordedDescent[]; isCut: boolean }> {
  const seen = new Set([nameOf(start)]);
  const relatives: Relative[] = [];
  const steps: RecordedDescent[] = [];
  const waiting: Relative[] = [{ ...start, depth: 0 }];
  for (const here of waiting) {
    for (const step of await stepsFrom(books, here, direction)) {
      steps.push(step);
      const next = direction === 'down' ? step.child : step.parent;
      if (seen.has(nameOf(next))) continue;
      if (relatives.length >= greatestKinship) return { relatives, steps, isCut: true };
      seen.add(nameOf(next));
      const relative = { ...next, depth: here.depth + 1 };
      relatives.push(relative);
      waiting.push(relative);
    }
  }
  return { relatives, steps, isCut: false };
}

/** The kinship of a thing, both ways. */
export async function kinshipOf(books: BookReader, thing: Thing): Promise<Kinship> {
  const up = await walk(books, thing, 'up');
  const down = await walk(books, thing, 'down');
  return {
    ancestors: up.relatives,
    descendants: down.relatives,
    descents: [...up.steps.toReversed(), ...down.steps],
    isCut: up.isCut || down.isCut,
  };
}

/** Numbers of the entries that speak of a thing, in order. */
export async function entriesOf(books: BookReader, thing: Thing): Promise<readonly number[]> {
  const rows = await books.select(threads, { prefix: [thing.thing, thing.id] });
  return rows.map((row) => row.entry);
}
