import type { BookReader } from '../../../journal/books.ts';
import {
  condemnedLotsOf,
  type ReagentLotRow,
  reagentLotOf,
  type SuspectIntervalRow,
  suspectIntervalsOf,
} from '../../registers/index.ts';
import type { AssayRunRow } from '../books.ts';
import { holdAnswers, titres } from './books.ts';

/** A reason why results and weighings of the past are in doubt. */
export interface Hold {
  /** Its name, stable and unique: `reagent-lot/HNO3-7`. */
  readonly hold: string;
  readonly thing: 'reagent-lot' | 'instrument';
  readonly id: string;
  /** Entries between these two are in doubt, the ends not among them. */
  readonly from: number;
  readonly through: number;
  readonly since: string;
  /** What happened, as a sentence. */
  readonly words: string;
}

function holdOfLot(row: ReagentLotRow): readonly Hold[] {
  if (!row.condemned) return [];
  const { entry, instant, reason } = row.condemned;
  return [
    {
      hold: `reagent-lot/${row.lot}`,
      thing: 'reagent-lot',
      id: row.lot,
      from: 0,
      through: entry,
      since: instant,
      words: `Lot ${row.lot} of ${row.reagent} was condemned: ${reason}`,
    },
  ];
}

function holdOfInterval(row: SuspectIntervalRow): Hold {
  const { instrument, from, through, words, cause } = row;
  const happened =
    cause === 'calibration'
      ? `The calibration of instrument ${instrument} was found wrong in entry ${through}.`
      : `Instrument ${instrument} failed its check in entry ${through}.`;
  return {
    hold: `instrument/${instrument}/${through}`,
    thing: 'instrument',
    id: instrument,
    from,
    through,
    since: row.throughInstant,
    words: `${happened} ${words}`,
  };
}

/** Every hold there is, also those that are all answered for. */
export async function holdsOf(books: BookReader): Promise<readonly Hold[]> {
  return [
    ...(await condemnedLotsOf(books)).flatMap(holdOfLot),
    ...(await suspectIntervalsOf(books)).map(holdOfInterval),
  ];
}

/** A hold by its name; nothing where no condemned lot and no failed check has it. */
export async function holdNamed(books: BookReader, name: string): Promise<Hold | undefined> {
  const [thing, ...rest] = name.split('/');
  if (thing === 'reagent-lot') {
    const row = await reagentLotOf(books, rest.join('/'));
    return row && holdOfLot(row)[0];
  }
  const intervals = await suspectIntervalsOf(books, rest.slice(0, -1).join('/'));
  return intervals.map(holdOfInterval).find(({ hold }) => hold === name);
}

/** What must be known of a result to see what puts it in doubt. */
export interface Made {
  readonly entry: number;
  readonly instruments: readonly string[];
  readonly reagentLots?: readonly string[];
  /** The determination of a titrant's factor that it was computed with. */
  readonly titre?: string | undefined;
}

export const madeOfRun = ({ entry, instrument, worksheet }: AssayRunRow): Made => ({
  entry,
  instruments: 'balance' in worksheet ? [instrument, worksheet.balance] : [instrument],
  reagentLots: worksheet.reagentLots ?? [],
  titre: 'titre' in worksheet ? worksheet.titre?.assayRun : undefined,
});

/** Whether an entry is among those that a hold puts in doubt. */
export const isInside = (hold: Hold, entry: number): boolean =>
  entry > hold.from && entry < hold.through;

/** The failed checks and wrong calibrations that put in doubt what an instrument gave in an entry. */
async function holdsOfInstruments(
  books: BookReader,
  instruments: readonly string[],
  entry: number,
): Promise<readonly Hold[]> {
  const found: Hold[] = [];
  for (const instrument of new Set(instruments)) {
    const intervals = await suspectIntervalsOf(books, instrument);
    found.push(...intervals.map(holdOfInterval).filter((hold) => isInside(hold, entry)));
  }
  return found;
}

/** What puts in doubt the factor of a titrant, by the balance that weighed its standards. */
async function holdsOfTitre(books: BookReader, titre: string): Promise<readonly Hold[]> {
  const row = await books.get(titres, titre);
  return row ? holdsOfInstruments(books, [row.body.instrument], row.entry) : [];
}

async function unanswered(
  books: BookReader,
  found: readonly Hold[],
  entry: number,
): Promise<readonly Hold[]> {
  const open = new Map<string, Hold>();
  for (const hold of found) {
    if (!(await books.get(holdAnswers, hold.hold, entry))) open.set(hold.hold, hold);
  }
  return [...open.values()];
}

/** The holds on one result that nobody has answered for. */
export async function holdsOn(books: BookReader, made: Made): Promise<readonly Hold[]> {
  const found: Hold[] = [];
  for (const lot of made.reagentLots ?? []) {
    const row = await reagentLotOf(books, lot);
    if (row) found.push(...holdOfLot(row).filter((hold) => isInside(hold, made.entry)));
  }
  found.push(...(await holdsOfInstruments(books, made.instruments, made.entry)));
  if (made.titre !== undefined) found.push(...(await holdsOfTitre(books, made.titre)));
  return unanswered(books, found, made.entry);
}

/** A weighing that proves nothing: in doubt, or set aside by the chief assayer. */
export interface DoubtfulWeighing {
  readonly hold: string;
  readonly words: string;
  readonly isSetAside: boolean;
}

/** Why a weighing outside of the laboratory proves nothing; nothing where it does. */
export async function doubtOfWeighing(
  books: BookReader,
  weighing: { readonly entry: number; readonly instrument: string },
): Promise<DoubtfulWeighing | undefined> {
  for (const hold of await holdsOfInstruments(books, [weighing.instrument], weighing.entry)) {
    const answer = await books.get(holdAnswers, hold.hold, weighing.entry);
    if (answer?.finding === 'stands') continue;
    return { hold: hold.hold, words: hold.words, isSetAside: answer !== undefined };
  }
  return undefined;
}
