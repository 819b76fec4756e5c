import type { Station } from '../../journal/station.ts';
import { accountBooks } from './books.ts';
import { accountDocket } from './docket.ts';
import { accountKinds } from './entries.ts';
import { itemBooks } from './items/books.ts';
import { itemPapers } from './items/docket.ts';
import { itemKinds } from './items/entries.ts';
import { itemCommands } from './items/items.ts';
import { itemQuestions } from './items/questions.ts';
import { itemRefusals } from './items/refusals.ts';
import { accountPapers } from './papers.ts';
import { accountQuestions } from './questions.ts';
import { rackBooks } from './racks/books.ts';
import { rackPapers } from './racks/docket.ts';
import { rackKinds } from './racks/entries.ts';
import { rackQuestions } from './racks/questions.ts';
import { rackCommands } from './racks/rack-commands.ts';
import { rackRefusals } from './racks/refusals.ts';
import { rackTallyCommands } from './racks/tally-racks.ts';
import { accountRefusals } from './refusals.ts';
import { accountCommands } from './rules.ts';
import { suspectQuestions } from './suspects/questions.ts';

/** The account: what should be there, what is there, and what two people say about the rest. */
export const accountStation: Station = {
  station: 'account',
  title: 'Account',
  kinds: [...accountKinds, ...itemKinds, ...rackKinds],
  books: [...accountBooks, ...itemBooks, ...rackBooks],
  commands: [...accountCommands, ...itemCommands, ...rackCommands, ...rackTallyCommands],
  questions: [...accountQuestions, ...itemQuestions, ...rackQuestions, ...suspectQuestions],
  refusals: { ...accountRefusals, ...itemRefusals, ...rackRefusals },
  papers: accountPapers,
  docket: async (books, instant) => [
    ...(await accountDocket(books, instant)),
    ...(await itemPapers(books)),
    ...(await rackPapers(books)),
  ],
};
