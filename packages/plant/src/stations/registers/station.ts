import type { Station } from '../../journal/station.ts';
import { registersBooks } from './books.ts';
import { registersDocket } from './docket.ts';
import { registersKinds } from './entries.ts';
import { registersQuestions } from './questions.ts';
import { registersRefusals } from './refusals.ts';
import { registersCommands } from './rules.ts';

/** The registers: what pieces must be, and who and what the plant works with. */
export const registersStation: Station = {
  station: 'registers',
  title: 'Registers',
  kinds: registersKinds,
  books: registersBooks,
  commands: registersCommands,
  questions: registersQuestions,
  refusals: registersRefusals,
  docket: registersDocket,
};
