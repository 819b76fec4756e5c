import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type MovementRow, movements } from '../../journal/core-books.ts';
import { defineQuestion, type Inquirer, type Role } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { personOf, pieceStandardOf } from '../registers/index.ts';
import { closings, differences } from './books.ts';
import { compareTally } from './comparison.ts';
import { presentShift } from './docket.ts';
import { needsTally, openShifts, type Period, type PlacePeriod, periodOf } from './period.ts';

/** Who may see what should lie at a place. Those who count do not, so that they count. */
const seesBook: readonly Role[] = ['metal accountant', 'chief assayer', 'auditor'];

const maySeeBook = (inquirer: Inquirer): boolean =>
  inquirer.person.roles.some((role) => seesBook.includes(role));

/** The piece standards that a tally of the place should look for: names only, no figures. */
async function standardsToCount(books: BookReader, place: PlacePeriod): Promise<Json> {
  const names = new Set([
    ...place.standing.map((standing) => standing.pieceStandard),
    ...place.movements.map((movement) => movement.pieceStandard),
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

async function placeAnswer(
  books: BookReader,
  place: PlacePeriod,
  options: { period: Period; book: boolean },
): Promise<Json> {
  const { tally } = place;
  const author = tally && (await personOf(books, tally.author));
  const moved = tally && place.movements.some((movement) => movement.entry > tally.tally);
  return {
    place: place.place,
    needsTally: needsTally(place),
    standards: await standardsToCount(books, place),
    tally: tally
      ? {
          entry: tally.tally,
          instant: tally.instant,
          person: tally.author,
          name: author?.name ?? tally.author,
          movedSince: moved ?? false,
        }
      : null,
    standing: options.book ? place.standing.map((standing) => ({ ...standing })) : null,
    comparison:
      options.book && tally
        ? compareTally(tally, options.period.signed).map((line) => ({ ...line }))
        : null,
  };
}

const balanceDesk = defineQuestion({
  question: 'balance-desk',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const period = await periodOf(books);
    const book = maySeeBook(inquirer);
    const shift = await presentShift(books, inquirer.instant);
    const open = await books.select(differences, { by: 'byState', prefix: ['open'] });
    return {
      shift,
      openShifts: [...openShifts(period)],
      seesBook: book,
      lastClose: period.closing
        ? {
            shift: period.closing.shift,
            entry: period.closing.entry,
            instant: period.closing.instant,
            lastEntry: period.closing.lastEntry,
          }
        : null,
      places: await Promise.all(
        period.places.map((place) => placeAnswer(books, place, { period, book })),
      ),
      openDifferences: book ? open.map((row) => ({ ...row })) : null,
    };
  },
});

/** Movements of a shift, added up by the way they went. */
function flows(rows: readonly MovementRow[]): Json {
  const sums = new Map<string, Record<string, string | number>>();
  for (const row of rows) {
    const key = [row.from, row.to, row.pieceStandard].join('\n');
    const before = sums.get(key);
    const add = (field: 'pieces' | 'grossMicrograms' | 'fineMicrograms') =>
      Number(before?.[field] ?? 0) + row[field];
    sums.set(key, {
      from: row.from,
      to: row.to,
      metal: row.metal,
      pieceStandard: row.pieceStandard,
      movements: Number(before?.movements ?? 0) + 1,
      pieces: add('pieces'),
      grossMicrograms: add('grossMicrograms'),
      fineMicrograms: add('fineMicrograms'),
    });
  }
  return [...sums.values()];
}

const shiftQuestion = defineQuestion({
  question: 'shift',
  station: 'account',
  input: z.strictObject({ shift: z.string().min(1).max(40) }),
  answer: async (books, { shift }, inquirer) => {
    const closing = await books.get(closings, shift);
    const moved = await books.select(movements, { by: 'byShift', prefix: [shift] });
    const book = maySeeBook(inquirer);
    return {
      shift,
      state: closing ? 'closed' : moved.length > 0 ? 'open' : 'without work',
      seesBook: book,
      closing: closing
        ? { ...closing, places: book ? closing.places.map((place) => ({ ...place })) : null }
        : null,
      flows: book ? flows(moved) : null,
      movements: moved.length,
    };
  },
});

const differencesQuestion = defineQuestion({
  question: 'differences',
  station: 'account',
  input: z.strictObject({}),
  answer: async (books) => {
    const rows = await books.select(differences, { by: 'byEntry', descending: true, limit: 500 });
    return { differences: rows.map((row) => ({ ...row })) };
  },
});

export const accountQuestions = [balanceDesk, shiftQuestion, differencesQuestion] as const;
