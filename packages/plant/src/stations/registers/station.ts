import type { Station } from '../../journal/station.ts';
import { registersBooks } from './books.ts';
import { registersDocket } from './docket.ts';
import { registersKinds } from './entries.ts';
import { refusingFarDays } from './far-days.ts';
import { instrumentCheckBooks } from './instrument-checks/books.ts';
import { instrumentCheckCommands } from './instrument-checks/commands.ts';
import { stoppedDocket } from './instrument-checks/docket.ts';
import { instrumentCheckKinds } from './instrument-checks/entries.ts';
import { instrumentCheckQuestions } from './instrument-checks/questions.ts';
import { instrumentCheckRefusals } from './instrument-checks/refusals.ts';
import { lineBooks } from './lines/books.ts';
import { lineCommands } from './lines/commands.ts';
import { lineKinds } from './lines/entries.ts';
import { lineQuestions } from './lines/questions.ts';
import { lineRefusals } from './lines/refusals.ts';
import { methodBooks } from './methods/books.ts';
import { methodCommands } from './methods/commands.ts';
import { methodDocket } from './methods/docket.ts';
import { methodKinds } from './methods/entries.ts';
import { methodQuestions } from './methods/questions.ts';
import { methodRefusals } from './methods/refusals.ts';
import { registersQuestions } from './questions.ts';
import { reagentBooks } from './reagents/books.ts';
import { reagentCommands } from './reagents/commands.ts';
import { reagentKinds } from './reagents/entries.ts';
import { reagentQuestions } from './reagents/questions.ts';
import { reagentRefusals } from './reagents/refusals.ts';
import { referenceMaterialBooks } from './reference-materials/books.ts';
import { referenceMaterialCommands } from './reference-materials/commands.ts';
import { referenceMaterialKinds } from './reference-materials/entries.ts';
import { referenceMaterialQuestions } from './reference-materials/questions.ts';
import { referenceMaterialRefusals } from './reference-materials/refusals.ts';
import { registersRefusals } from './refusals.ts';
import { registersCommands } from './rules.ts';

/** The registers: what pieces must be, and who and what the plant works with. */
export const registersStation: Station = {
  station: 'registers',
  title: 'Registers',
  kinds: [
    ...registersKinds,
    ...methodKinds,
    ...referenceMaterialKinds,
    ...reagentKinds,
    ...instrumentCheckKinds,
    ...lineKinds,
  ],
  books: [
    ...registersBooks,
    ...methodBooks,
    ...referenceMaterialBooks,
    ...reagentBooks,
    ...instrumentCheckBooks,
    ...lineBooks,
  ],
  commands: [
    ...registersCommands,
    ...methodCommands,
    ...referenceMaterialCommands,
    ...reagentCommands,
    ...instrumentCheckCommands,
    ...lineCommands,
  ].map(refusingFarDays),
  questions: [
    ...registersQuestions,
    ...methodQuestions,
    ...referenceMaterialQuestions,
    ...reagentQuestions,
    ...instrumentCheckQuestions,
    ...lineQuestions,
  ],
  refusals: {
    ...registersRefusals,
    ...methodRefusals,
    ...referenceMaterialRefusals,
    ...reagentRefusals,
    ...instrumentCheckRefusals,
    ...lineRefusals,
  },
  docket: async (books, instant) => [
    ...(await registersDocket(books, instant)),
    ...(await methodDocket(books)),
    ...(await stoppedDocket(books)),
  ],
};
