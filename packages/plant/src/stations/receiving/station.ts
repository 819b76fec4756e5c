import type { Station } from '../../journal/station.ts';
import { receivingBooks } from './books.ts';
import { receivingDocket } from './docket.ts';
import { receivingKinds } from './entries.ts';
import { receivingPapers } from './papers.ts';
import { receivingQuestions } from './questions.ts';
import { receivingRefusals } from './refusals.ts';
import { receivingCommands } from './rules.ts';

/** Receiving: consignments of blanks, from the packing list to the drawn sample. */
export const receivingStation: Station = {
  station: 'receiving',
  title: 'Receiving',
  kinds: receivingKinds,
  books: receivingBooks,
  commands: receivingCommands,
  questions: receivingQuestions,
  refusals: receivingRefusals,
  papers: receivingPapers,
  docket: receivingDocket,
};
