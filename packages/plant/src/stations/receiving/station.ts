import type { Station } from '../../journal/station.ts';
import { receivingBooks } from './books.ts';
import { differenceBooks } from './difference/books.ts';
import { differenceDocket } from './difference/docket.ts';
import { differenceKinds } from './difference/entries.ts';
import { differencePapers } from './difference/papers.ts';
import { differenceQuestions } from './difference/questions.ts';
import { raiseDifference } from './difference/raise.ts';
import { recordAnswer, settleDifference } from './difference/settle.ts';
import { receivingDocket } from './docket.ts';
import { attachCertificate } from './documents/attach.ts';
import { documentBooks } from './documents/books.ts';
import { documentDocket } from './documents/docket.ts';
import { documentKinds } from './documents/entries.ts';
import { goWithoutCertificate } from './documents/go-without.ts';
import { documentQuestions } from './documents/questions.ts';
import { receivingKinds } from './entries.ts';
import { furtherBooks } from './further/books.ts';
import { furtherDocket } from './further/docket.ts';
import { furtherKinds } from './further/entries.ts';
import { furtherPapers } from './further/papers.ts';
import { furtherQuestions } from './further/questions.ts';
import { furtherCommands } from './further/rules.ts';
import { receivingPapers } from './papers.ts';
import { portionBooks } from './portions/books.ts';
import { portionDocket } from './portions/docket.ts';
import { portionKinds } from './portions/entries.ts';
import { portionNotePaper } from './portions/note-paper.ts';
import { portionQuestions } from './portions/questions.ts';
import { portionCommands } from './portions/rules.ts';
import { receivingQuestions } from './questions.ts';
import { receivingRefusals } from './refusals.ts';
import { receivingCommands } from './rules.ts';

/** Receiving: consignments of blanks, from the packing list to the drawn sample. */
export const receivingStation: Station = {
  station: 'receiving',
  title: 'Receiving',
  kinds: [
    ...receivingKinds,
    ...differenceKinds,
    ...documentKinds,
    ...portionKinds,
    ...furtherKinds,
  ],
  books: [
    ...receivingBooks,
    ...differenceBooks,
    ...documentBooks,
    ...portionBooks,
    ...furtherBooks,
  ],
  commands: [
    ...receivingCommands,
    raiseDifference,
    recordAnswer,
    settleDifference,
    attachCertificate,
    goWithoutCertificate,
    ...portionCommands,
    ...furtherCommands,
  ],
  questions: [
    ...receivingQuestions,
    ...differenceQuestions,
    ...documentQuestions,
    ...portionQuestions,
    ...furtherQuestions,
  ],
  refusals: receivingRefusals,
  papers: [...receivingPapers, ...differencePapers, ...furtherPapers, portionNotePaper],
  docket: async (books, instant) => [
    ...(await receivingDocket(books)),
    ...(await differenceDocket(books, instant)),
    ...(await documentDocket(books)),
    ...(await portionDocket(books, instant)),
    ...(await furtherDocket(books)),
  ],
};
