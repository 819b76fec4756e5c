import type { Station } from '../../journal/station.ts';
import { acceptDelivery } from './accept-delivery.ts';
import { putUpBooks } from './books.ts';
import { putUpDocket } from './docket.ts';
import { putUpKinds } from './entries.ts';
import { scrapPieces, setAsidePieces } from './loose-pieces.ts';
import { openTube } from './open-tube.ts';
import { packBox } from './pack-box.ts';
import { putUpPapers } from './papers.ts';
import { putUpQuestions } from './questions.ts';
import { putUpRefusals } from './refusals.ts';
import { weighTube } from './weigh-tube.ts';

/** Put-up: pieces into tubes, tubes into boxes. */
export const putUpStation: Station = {
  station: 'put-up',
  title: 'Put-up',
  kinds: putUpKinds,
  books: putUpBooks,
  commands: [acceptDelivery, weighTube, openTube, packBox, setAsidePieces, scrapPieces],
  questions: putUpQuestions,
  refusals: putUpRefusals,
  papers: putUpPapers,
  docket: putUpDocket,
};
