import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { defineQuestion, type Inquirer, type Role } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { presentAccount } from '../account/index.ts';
import { idSchema } from '../registers/index.ts';
import { kindTallies, searches } from './books.ts';
import { faultKindNames, faultKinds } from './fault-kinds.ts';
import { presentSearch } from './present-search.ts';
import { learnedRates } from './read-model.ts';

/** Who may see what should lie at a place. Those who count do not, so that they count. */
const seesBook: readonly Role[] = ['metal accountant', 'chief assayer', 'auditor'];

const maySeeBook = (inquirer: Inquirer): boolean =>
  inquirer.person.roles.some((role) => seesBook.includes(role));

async function ratesAnswer(books: BookReader): Promise<Json> {
  const rates = await learnedRates(books);
  return Promise.all(
    faultKindNames.map(async (kind) => {
      const row = await books.get(kindTallies, kind);
      const { title, assumedRate, opportunity } = faultKinds[kind];
      return {
        kind,
        title,
        opportunity,
        assumedRate,
        opportunities: row?.opportunities ?? 0,
        confirmed: row?.confirmed ?? 0,
        rate: rates.get(kind) ?? assumedRate,
      };
    }),
  );
}

/** Piece standards that a present tally names, with the pieces that differ. */
async function searchable(books: BookReader): Promise<Json> {
  const { lines } = await presentAccount(books);
  const standards = Map.groupBy(lines, ({ pieceStandard }) => pieceStandard);
  return [...standards].map(([pieceStandard, of]) => ({
    pieceStandard,
    differing: of
      .filter(({ piecesDifference }) => piecesDifference !== 0)
      .map(({ place, piecesDifference }) => ({ place, pieces: 0 - piecesDifference })),
  }));
}

const searchesQuestion = defineQuestion({
  question: 'searches',
  station: 'search',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) => {
    const rows = await books.select(searches, { by: 'byEntry', descending: true, limit: 200 });
    const book = maySeeBook(inquirer);
    return {
      seesBook: book,
      searches: rows.map((row) => ({ ...row, residuals: book ? row.residuals : [] })),
      searchable: book ? await searchable(books) : [],
      kinds: book ? await ratesAnswer(books) : [],
    };
  },
});

const searchQuestion = defineQuestion({
  question: 'search',
  station: 'search',
  input: z.strictObject({ search: idSchema }),
  answer: async (books, { search }, inquirer) => {
    const present = await presentSearch(books, search);
    if (!present) return null;
    const book = maySeeBook(inquirer);
    const { row, ranking } = present;
    return {
      seesBook: book,
      search: { ...row, residuals: book ? row.residuals : [] },
      looks: present.looks.map((look) => ({ ...look })),
      ranking: ranking
        ? {
            ...ranking,
            // Whoever looks sees where to look; what should lie there is for the account alone.
            residuals: book ? ranking.residuals : [],
            stories: book ? ranking.stories : [],
            faults: book ? ranking.faults : [],
            words: book ? ranking.words : '',
          }
        : null,
    } as unknown as Json;
  },
});

export const searchQuestions = [searchesQuestion, searchQuestion] as const;
