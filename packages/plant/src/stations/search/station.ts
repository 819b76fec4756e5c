import type { Station } from '../../journal/station.ts';
import { searchBooks } from './books.ts';
import { searchDocket } from './docket.ts';
import { endSearch } from './end-search.ts';
import { searchKinds } from './entries.ts';
import { openSearch } from './open-search.ts';
import { searchQuestions } from './questions.ts';
import { recordLook } from './record-look.ts';
import { searchRefusals } from './refusals.ts';

/** The search: where a piece that is missing lies, or which record is wrong. */
export const searchStation: Station = {
  station: 'search',
  title: 'Search',
  kinds: searchKinds,
  books: searchBooks,
  commands: [openSearch, recordLook, endSearch],
  questions: searchQuestions,
  refusals: searchRefusals,
  docket: searchDocket,
};
