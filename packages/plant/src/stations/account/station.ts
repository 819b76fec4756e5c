import type { Station } from '../../journal/station.ts';
import { accountBooks } from './books.ts';
import { accountDocket } from './docket.ts';
import { accountKinds } from './entries.ts';
import { accountPapers } from './papers.ts';
import { accountQuestions } from './questions.ts';
import { accountRefusals } from './refusals.ts';
import { accountCommands } from './rules.ts';

/** The account: what should be there, what is there, and what two people say about the rest. */
export const accountStation: Station = {
  station: 'account',
  title: 'Account',
  kinds: accountKinds,
  books: accountBooks,
  commands: accountCommands,
  questions: accountQuestions,
  refusals: accountRefusals,
  papers: accountPapers,
  docket: accountDocket,
};
