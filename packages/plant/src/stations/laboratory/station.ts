import type { Station } from '../../journal/station.ts';
import { laboratoryBooks } from './books.ts';
import { chartBooks } from './chart-books.ts';
import { chartDocket } from './chart-docket.ts';
import { chartQuestions } from './chart-questions.ts';
import {
  controlBooks,
  controlCommands,
  controlKinds,
  controlQuestions,
  controlRefusals,
  holdDocket,
  setAsideDocket,
} from './controls/index.ts';
import { laboratoryDocket } from './docket.ts';
import { laboratoryKinds } from './entries.ts';
import {
  exchangeBooks,
  exchangeCommands,
  exchangeKinds,
  exchangePapers,
  exchangeQuestions,
  exchangeRefusals,
} from './exchange/index.ts';
import { askFurtherBlanks } from './further/ask.ts';
import { furtherKinds } from './further/entries.ts';
import { furtherRefusals } from './further/refusals.ts';
import { impurityRefusals } from './impurities/refusals.ts';
import {
  metalBooks,
  metalCommands,
  metalKinds,
  metalQuestions,
  metalRefusals,
} from './metal/index.ts';
import { muffleRefusals } from './muffle/refusals.ts';
import {
  proficiencyBooks,
  proficiencyCommands,
  proficiencyDocket,
  proficiencyKinds,
  proficiencyQuestions,
  proficiencyRefusals,
} from './proficiency/index.ts';
import { laboratoryQuestions } from './questions.ts';
import { laboratoryRefusals } from './refusals.ts';
import { laboratoryCommands } from './rules.ts';
import {
  screeningBooks,
  screeningCommands,
  screeningDocket,
  screeningKinds,
  screeningQuestions,
  screeningRefusals,
} from './screening/index.ts';
import {
  spectrometerBooks,
  spectrometerCommands,
  spectrometerKinds,
  spectrometerQuestions,
  spectrometerRefusals,
} from './spectrometer/index.ts';
import {
  worksheetBooks,
  worksheetCommands,
  worksheetDocket,
  worksheetKinds,
  worksheetQuestions,
  worksheetRefusals,
} from './worksheets.ts';

/** The laboratory: what the blanks of a melt are, and whether the melt may be struck. */
export const laboratoryStation: Station = {
  station: 'laboratory',
  title: 'Laboratory',
  kinds: [
    ...laboratoryKinds,
    ...controlKinds,
    ...spectrometerKinds,
    ...exchangeKinds,
    ...worksheetKinds,
    ...metalKinds,
    ...proficiencyKinds,
    ...screeningKinds,
    ...furtherKinds,
  ],
  books: [
    ...laboratoryBooks,
    ...chartBooks,
    ...controlBooks,
    ...spectrometerBooks,
    ...exchangeBooks,
    ...worksheetBooks,
    ...metalBooks,
    ...proficiencyBooks,
    ...screeningBooks,
  ],
  commands: [
    ...laboratoryCommands,
    ...controlCommands,
    ...spectrometerCommands,
    ...exchangeCommands,
    ...worksheetCommands,
    ...metalCommands,
    ...proficiencyCommands,
    ...screeningCommands,
    askFurtherBlanks,
  ],
  questions: [
    ...laboratoryQuestions,
    ...chartQuestions,
    ...controlQuestions,
    ...spectrometerQuestions,
    ...exchangeQuestions,
    ...worksheetQuestions,
    ...metalQuestions,
    ...proficiencyQuestions,
    ...screeningQuestions,
  ],
  refusals: {
    ...laboratoryRefusals,
    ...controlRefusals,
    ...spectrometerRefusals,
    ...exchangeRefusals,
    ...worksheetRefusals,
    ...metalRefusals,
    ...muffleRefusals,
    ...proficiencyRefusals,
    ...screeningRefusals,
    ...furtherRefusals,
    ...impurityRefusals,
  },
  papers: [...exchangePapers],
  docket: async (books) => [
    ...(await laboratoryDocket(books)),
    ...(await chartDocket(books)),
    ...(await holdDocket(books)),
    ...(await setAsideDocket(books)),
    ...(await worksheetDocket(books)),
    ...(await proficiencyDocket(books)),
    ...(await screeningDocket(books)),
  ],
};
