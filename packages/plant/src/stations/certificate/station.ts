import type { Station } from '../../journal/station.ts';
import { certificateBooks } from './books.ts';
import { certificateDocket } from './docket.ts';
import { certificateKinds } from './entries.ts';
import { certificatePapers } from './papers.ts';
import { certificateQuestions } from './questions.ts';
import { certificateRefusals } from './refusals.ts';
import { certificateCommands } from './rules.ts';

/** The certificate desk: what the plant answers for, and to whom it hands it. */
export const certificateStation: Station = {
  station: 'certificate',
  title: 'Certificate',
  kinds: certificateKinds,
  books: certificateBooks,
  commands: certificateCommands,
  questions: certificateQuestions,
  refusals: certificateRefusals,
  papers: certificatePapers,
  docket: certificateDocket,
};
