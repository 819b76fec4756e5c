import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { defineQuestion, type Inquirer } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { maySeeBook, presentDifferences } from '../account/index.ts';
import { idSchema } from '../registers/index.ts';
import { kindTallies, type LookRow, searches } from './books.ts';
import { calibrationOf } from './calibration.ts';
import { faultKindNames, faultKinds } from './fault-kinds.ts';
import { presentSearch } from './present-search.ts';
import type { RankedLook } from './ranked-looks.ts';
import { learnedRates } from './read-model.ts';

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
  const lines = await presentDifferences(books);
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

/** Looks at a place or rack: its evidence is what the account says of it. */
const atPlaces = /^(count|floor|else|rack)\//;

/** A look as a person may see it: what a count should show would spoil it for whoever counts. */
function shownLook(look: RankedLook, seesBook: boolean): RankedLook {
  if (seesBook) return look;
  return {
    ...look,
    again: look.again?.isForBook ? null : look.again,
    evidence: atPlaces.test(look.look) ? [] : look.evidence,
  };
}

/** A look that was taken, as a person may see it: what a count found is nothing for whoever counts again. */
function shownTaken(look: LookRow, inquirer: Inquirer): Json {
  const isOwn = look.author === inquirer.person.person;
  const isCountThatDiffers = look.outcome === 'found' && /^(count|rack)\//.test(look.look);
  if (isOwn || maySeeBook(inquirer) || !isCountThatDiffers) return { ...look };
  const { finding, ...rest } = look;
  return { ...rest, words: '' };
}

const searchQuestion = defineQuestion({
  question: 'search',
  station: 'search',
  input: z.strictObject({ search: idSchema }),
  answer: async (books, { search }, inquirer) => {
    const present = await presentSearch(books, search, inquirer.calculate);
    if (!present) return null;
    const book = maySeeBook(inquirer);
    const { row, ranking } = present;
    return {
      seesBook: book,
      search: { ...row, residuals: book ? row.residuals : [] },
      looks: present.looks.map((look) => shownTaken(look, inquirer)),
      ranking: ranking
        ? {
            ...ranking,
            looks: ranking.looks.map((look) => shownLook(look, book)),
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

const calibrationQuestion = defineQuestion({
  question: 'search-calibration',
  station: 'search',
  input: z.strictObject({}),
  answer: async (books, _input, inquirer) =>
    maySeeBook(inquirer) ? ((await calibrationOf(books)) as unknown as Json) : null,
});

export const searchQuestions = [searchesQuestion, searchQuestion, calibrationQuestion] as const;
