import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { movements } from '../../journal/core-books.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { personOf, pieceStandardOf } from '../registers/index.ts';
import { closings, differences } from './books.ts';
import { type HandOverRow, handOvers } from './books-periods.ts';
import { compareTally, movementAfterTally } from './comparison.ts';
import { presentShift } from './docket.ts';
import { type Overview, overviewOf, type PlaceOverview } from './overview.ts';
import { needsTally } from './period.ts';
import { periodQuestions } from './questions-periods.ts';
import { racksAtPlace } from './racks/rack-answer.ts';
import { maySeeBook } from './sees-book.ts';
import { shiftFlows } from './shift-flows.ts';
import { shiftBefore } from './shift-names.ts';

/** The piece standards that a tally of the place should look for: names only, no figures. */
async function standardsToCount(books: BookReader, place: PlaceOverview): Promise<Json> {
  const names = new Set([
    ...place.standing.map((standing) => standing.pieceStandard),
    ...place.standardsMoved,
  ]);
  return Promise.all(
    [...names].sort().map(async (pieceStandard) => {
      const standard = await pieceStandardOf(books, pieceStandard);
      return {
        pieceStandard,
        title: standard?.title ?? pieceStandard,
        metal: standard?.metal ?? '',
      };
    }),
  );
}

/** Whether metal moved after the tally, other than by what was signed for because of it. */
async function movedSince(
  books: BookReader,
  { place, tally, lastMoved }: PlaceOverview,
  signed: Overview['signed'],
): Promise<boolean> {
  if (!tally || lastMoved === null || lastMoved <= tally.tally) return false;
  const since = signed.filter((row) => row.place === place && row.entry > tally.tally);
  if (since.length === 0) return true;
  const rows = await books.select(movements, { from: tally.tally + 1 });
  const after = { place, tally: tally.tally, last: lastMoved, movements: rows, signed: since };
  return movementAfterTally(after) !== undefined;
}

async function placeAnswer(
  books: BookReader,
  place: PlaceOverview,
  options: { overview: Overview; book: boolean },
): Promise<Json> {
  const { tally } = place;
  const author = tally && (await personOf(books, tally.author));
  return {
    place: place.place,
    needsTally: needsTally({ ...place, hasMoved: place.lastMoved !== null }),
    standards: await standardsToCount(books, place),
    tally: tally
      ? {
          entry: tally.tally,
          instant: tally.instant,
          person: tally.author,
          name: author?.name ?? tally.author,
          movedSince: await movedSince(books, place, options.overview.signed),
        }
      : null,
    standing: options.book ? place.standing.map((standing) => ({ ...standing })) : null,
    comparison:
      options.book && tally
        ? compareTally(tally, options.overview.signed).map((line) => ({ ...line }))
        : null,
    racks: (await racksAtPlace(books, place.place, options.book)) as unknown as Json,
  };
}

const balanceDesk = defineQuestion({
  question: 'balance-desk',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const overview = await overviewOf(books);
    const { closing } = overview;
    const book = maySeeBook(inquirer);
    const shift = await presentShift(books, inquirer.instant);
    const open = await books.select(differences, { by: 'byState', prefix: ['open'] });
    return {
      shift,
      openShifts: overview.openShifts.map((open) => open.shift),
      seesBook: book,
      lastClose: closing
        ? {
            shift: closing.shift,
            entry: closing.entry,
            instant: closing.instant,
            lastEntry: closing.lastEntry,
          }
        : null,
      places: await Promise.all(
        overview.places.map((place) => placeAnswer(books, place, { overview, book })),
      ),
      openDifferences: book ? open.map((row) => ({ ...row })) : null,
    };
  },
});

async function namedHandOver(books: BookReader, row: HandOverRow): Promise<Json> {
  const name = async (person: string) => (await personOf(books, person))?.name ?? person;
  return {
    ...row,
    leaving: await name(row.leaving),
    arriving: await name(row.arriving),
  };
}

const shiftQuestion = defineQuestion({
  question: 'shift',
  station: 'account',
  input: z.strictObject({ shift: z.string().min(1).max(40) }),
  answer: async (books, { shift }, inquirer) => {
    const closing = await books.get(closings, shift);
    const moved = await books.select(movements, { by: 'byShift', prefix: [shift] });
    const book = maySeeBook(inquirer);
    const present = await presentShift(books, inquirer.instant);
    const handOver = await books.get(handOvers, shift);
    return {
      shift,
      isLeaving: shift === present || shift === shiftBefore(present),
      handOver: handOver ? await namedHandOver(books, handOver) : null,
      state: closing ? 'closed' : moved.length > 0 ? 'open' : 'without work',
      seesBook: book,
      closing: closing
        ? { ...closing, places: book ? closing.places.map((place) => ({ ...place })) : null }
        : null,
      flows: book ? shiftFlows(moved).map((flow) => ({ ...flow })) : null,
      movements: moved.length,
    };
  },
});

const differencesQuestion = defineQuestion({
  question: 'differences',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    // What is missing at a place tells whoever counts it what he should find.
    if (!maySeeBook(inquirer)) return { seesBook: false, differences: [] };
    const rows = await books.select(differences, { by: 'byEntry', descending: true, limit: 500 });
    return { seesBook: true, differences: rows.map((row) => ({ ...row })) };
  },
});

export const accountQuestions = [
  balanceDesk,
  shiftQuestion,
  differencesQuestion,
  ...periodQuestions,
] as const;
