import type { Entry } from './entry.ts';
import type { Refusal } from './refusal.ts';
import { maySeeBook } from './sees-book.ts';
import type { EntryKind, Person } from './station.ts';

/**
 * Whether an entry tells something of what should lie at a place as a whole: it moves metal that lies in no named
 * container. What is in a tube, a box or a drum stays visible, since whoever moves it has to know.
 */
const movesLooseMetal = ({ postings }: Pick<Entry, 'postings'>): boolean =>
  postings.some(({ container }) => container === null);

/**
 * An entry as a person may see it. A body that is not for him is left out; and those who count are told neither
 * what an entry says nor how much it moved where that would tell them what should lie at the place.
 */
export function shownEntry<Shown extends Entry>(
  entry: Shown,
  options: { readonly kind: EntryKind | undefined; readonly person: Person },
) {
  const { kind, person } = options;
  const readers = kind?.readableBy;
  const mayRead = !readers || readers.some((role) => person.roles.includes(role));
  const isBlind = movesLooseMetal(entry) && !maySeeBook({ person });
  return {
    ...entry,
    body: mayRead && !isBlind ? entry.body : {},
    postings: isBlind ? [] : entry.postings,
    isBlind,
    meaning: kind?.meaning ?? '',
    things: kind?.things(entry.body) ?? [],
  };
}

/** A refusal as a person may be told it: to those who count it does not say how much lies at a place. */
export function shownRefusal({ toOthers, ...open }: Refusal, person: Person): Refusal {
  return maySeeBook({ person }) ? open : { ...open, ...toOthers };
}
