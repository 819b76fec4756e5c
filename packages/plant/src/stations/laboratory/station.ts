import type { Station } from '../../journal/station.ts';
import { laboratoryBooks } from './books.ts';
import { chartBooks } from './chart-books.ts';
import { chartDocket } from './chart-docket.ts';
import { chartQuestions } from './chart-questions.ts';
import { laboratoryDocket } from './docket.ts';
import { laboratoryKinds } from './entries.ts';
import { laboratoryQuestions } from './questions.ts';
import { laboratoryRefusals } from './refusals.ts';
import { laboratoryCommands } from './rules.ts';

/** The laboratory: what the blanks of a melt are, and whether the melt may be struck. */
export const laboratoryStation: Station = {
  station: 'laboratory',
  title: 'Laboratory',
  kinds: laboratoryKinds,
  books: [...laboratoryBooks, ...chartBooks],
  commands: laboratoryCommands,
  questions: [...laboratoryQuestions, ...chartQuestions],
  refusals: laboratoryRefusals,
  docket: async (books) => [...(await laboratoryDocket(books)), ...(await chartDocket(books))],
};
