import type { Thing } from '../../../journal/entry.ts';
import { defineKind } from '../../../journal/station.ts';
import {
  type PortionDiscardedBody,
  type PortionKeptBody,
  type PortionOpenedBody,
  type PortionReturnedBody,
  type PortionSentBody,
  type PortionsSealedBody,
  type PortionTakenBackBody,
  portionDiscarded,
  portionKept,
  portionOpened,
  portionReturned,
  portionSent,
  portionsSealed,
  portionTakenBack,
} from './bodies.ts';
import {
  postingsOfDiscarding,
  postingsOfPortionReturn,
  postingsOfSending,
  postingsOfTakingBack,
} from './postings.ts';
import {
  applyDiscarding,
  applyKeeping,
  applyOpening,
  applyPortionReturn,
  applySealing,
  applySending,
  applyTakingBack,
} from './read-model.ts';
import { reportedKinds } from './reported/entries.ts';

const station = 'receiving';
const portionThing = (id: string): Thing => ({ thing: 'portion', id });
const blankThing = (id: string): Thing => ({ thing: 'blank', id });

function thingsOf(body: { portion: string; melt: string }, seal?: string | null): readonly Thing[] {
  return [
    portionThing(body.portion),
    { thing: 'melt', id: body.melt },
    ...(seal === undefined || seal === null ? [] : [{ thing: 'seal', id: seal }]),
  ];
}

export const PortionsSealed = defineKind<PortionsSealedBody>({
  kind: 'PortionsSealed',
  version: 1,
  station,
  meaning:
    'Two people divide a drawn sample into sealed portions: for the plant, the supplier, the umpire, and in reserve. They stay where they are.',
  body: portionsSealed,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'melt', id: body.melt },
    { thing: 'consignment', id: body.consignment },
    ...body.portions.flatMap(({ portion, seal, blanks }) => [
      portionThing(portion),
      { thing: 'seal', id: seal },
      ...blanks.map(blankThing),
    ]),
  ],
  descents: (body) =>
    body.portions.flatMap(({ portion, blanks }) =>
      blanks.length === 0
        ? [{ parent: { thing: 'melt', id: body.melt }, child: portionThing(portion) }]
        : blanks.map((blank) => ({ parent: blankThing(blank), child: portionThing(portion) })),
    ),
  apply: applySealing,
});

export const PortionSent = defineKind<PortionSentBody>({
  kind: 'PortionSent',
  version: 1,
  station,
  meaning:
    'Two people hand a sealed portion to the supplier or the umpire, with a document. Its metal leaves the plant.',
  body: portionSent,
  postings: postingsOfSending,
  things: (body) => thingsOf(body, body.sealFound),
  apply: applySending,
});

export const PortionTakenBack = defineKind<PortionTakenBackBody>({
  kind: 'PortionTakenBack',
  version: 1,
  station,
  meaning:
    'Two people take back and weigh what supplier or umpire left of a portion. What did not come back stays with the other side.',
  body: portionTakenBack,
  postings: postingsOfTakingBack,
  things: (body) => thingsOf(body, body.sealFound),
  apply: applyTakingBack,
});

export const PortionOpened = defineKind<PortionOpenedBody>({
  kind: 'PortionOpened',
  version: 1,
  station,
  meaning:
    'Two people open a sealed portion in the laboratory, for a stated cause; its blanks may be worked on again.',
  body: portionOpened,
  postings: 'moves nothing',
  things: (body) => thingsOf(body, body.sealFound),
  apply: applyOpening,
});

export const PortionReturned = defineKind<PortionReturnedBody>({
  kind: 'PortionReturned',
  version: 1,
  station,
  meaning:
    'Two people bring the whole blanks of a sealed portion back to the rest of their melt at receiving.',
  body: portionReturned,
  postings: postingsOfPortionReturn,
  things: (body) => [...thingsOf(body, body.sealFound), ...body.blanks.map(blankThing)],
  apply: applyPortionReturn,
});

export const PortionDiscarded = defineKind<PortionDiscardedBody>({
  kind: 'PortionDiscarded',
  version: 1,
  station,
  meaning:
    'The chief assayer and a witness put a portion that is no longer kept to the scrap, or state that one was used up outside.',
  body: portionDiscarded,
  postings: postingsOfDiscarding,
  things: (body) => thingsOf(body, body.sealFound),
  apply: applyDiscarding,
});

export const PortionKept = defineKind<PortionKeptBody>({
  kind: 'PortionKept',
  version: 1,
  station,
  meaning: 'A portion lies in another place, or is kept until another day, for a stated cause.',
  body: portionKept,
  postings: 'moves nothing',
  things: (body) => thingsOf(body),
  apply: applyKeeping,
});

export const portionKinds = [
  PortionsSealed,
  PortionSent,
  PortionTakenBack,
  PortionOpened,
  PortionReturned,
  PortionDiscarded,
  PortionKept,
  ...reportedKinds,
] as const;
