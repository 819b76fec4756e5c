import type { Book } from './books.ts';
import { coreBooks } from './core-books.ts';
import { invariant } from './fault.ts';
import type { Command, EntryKind, Paper, Question, Station } from './station.ts';

/** The stations of a plant with everything they register, looked up by name. */
export interface Registry {
  readonly stations: readonly Station[];
  readonly books: readonly Book[];
  kind(name: string): EntryKind | undefined;
  command(name: string): Command | undefined;
  question(name: string): Question | undefined;
  paper(name: string): Paper | undefined;
}

function byName<Item>(items: readonly Item[], nameOf: (item: Item) => string): Map<string, Item> {
  const found = new Map<string, Item>();
  for (const item of items) {
    invariant(!found.has(nameOf(item)), `${nameOf(item)} is registered twice`);
    found.set(nameOf(item), item);
  }
  return found;
}

/** Registers stations; a name used twice, or a kind that does not say what metal it moves, is a fault. */
export function registerStations(stations: readonly Station[]): Registry {
  const kinds = byName(
    stations.flatMap((station) => station.kinds),
    (kind) => kind.kind,
  );
  const commands = byName(
    stations.flatMap((station) => station.commands),
    (item) => item.command,
  );
  const questions = byName(
    stations.flatMap((station) => station.questions),
    (item) => item.question,
  );
  const papers = byName(
    stations.flatMap((station) => station.papers ?? []),
    (item) => item.paper,
  );
  for (const kind of kinds.values()) {
    invariant(
      kind.postings === 'moves nothing' || typeof kind.postings === 'function',
      `${kind.kind} does not declare what metal it moves`,
    );
  }
  const books = [...coreBooks, ...stations.flatMap((station) => station.books)] as Book[];
  byName(books, (book) => book.name);
  return Object.freeze({
    stations,
    books,
    kind: (name: string) => kinds.get(name),
    command: (name: string) => commands.get(name),
    question: (name: string) => questions.get(name),
    paper: (name: string) => papers.get(name),
  });
}
