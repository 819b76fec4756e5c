import type { Station } from '../../journal/station.ts';
import { pressRoomBooks } from './books.ts';
import { closeRun } from './close-run.ts';
import { deliverPieces } from './deliver-pieces.ts';
import { pressRoomDocket } from './docket.ts';
import { pressRoomKinds } from './entries.ts';
import { openRun } from './open-run.ts';
import { pressRoomQuestions } from './questions.ts';
import { recordStrike } from './record-strike.ts';
import { pressRoomRefusals } from './refusals.ts';
import { resolveHold } from './resolve-hold.ts';
import { setRejectsAside } from './set-rejects-aside.ts';
import { takeBlanks } from './take-blanks.ts';

/** Where blanks become pieces: runs of die pairs, examined strikes, rejects and holds. */
export const pressRoomStation: Station = {
  station: 'press-room',
  title: 'Press room',
  kinds: pressRoomKinds,
  books: pressRoomBooks,
  commands: [
    takeBlanks,
    openRun,
    recordStrike,
    setRejectsAside,
    closeRun,
    deliverPieces,
    resolveHold,
  ],
  questions: pressRoomQuestions,
  refusals: pressRoomRefusals,
  docket: pressRoomDocket,
};
