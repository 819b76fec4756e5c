import type { Descent, Thing } from '../../journal/entry.ts';
import { defineKind } from '../../journal/station.ts';
import {
  type BlanksTaken as BlanksTakenBody,
  blanksTaken,
  type HoldOpened as HoldOpenedBody,
  type HoldResolved as HoldResolvedBody,
  holdOpened,
  holdResolved,
  type PiecesDelivered as PiecesDeliveredBody,
  piecesDelivered,
  type RejectsSetAside as RejectsSetAsideBody,
  type RunClosed as RunClosedBody,
  type RunOpened as RunOpenedBody,
  rejectsSetAside,
  runClosed,
  runOpened,
  type StrikeRecorded as StrikeRecordedBody,
  strikeRecorded,
} from './bodies.ts';
import { postingsOfBlanksTaken, postingsOfDelivery, postingsOfRejects } from './postings.ts';
import {
  applyBlanksTaken,
  applyDelivery,
  applyHoldOpened,
  applyHoldResolved,
  applyRejects,
  applyRunClosed,
  applyRunOpened,
  applyStrike,
} from './read-model.ts';

const station = 'press-room';
const melt = (id: string): Thing => ({ thing: 'melt', id });
const run = (id: string): Thing => ({ thing: 'run', id });
const die = (id: string): Thing => ({ thing: 'die', id });
const hold = (id: string): Thing => ({ thing: 'hold', id });
const strike = (body: { run: string; strikeNumber: number }): Thing => ({
  thing: 'strike',
  id: `${body.run}/${body.strikeNumber}`,
});
const photograph = (sha256: string): Thing => ({ thing: 'photograph', id: sha256 });
const diesOf = (body: { obverse: string; reverse: string; collar: string }): Thing[] =>
  [body.obverse, body.reverse, body.collar].map(die);

export const BlanksTaken = defineKind<BlanksTakenBody>({
  kind: 'BlanksTaken',
  version: 1,
  station,
  meaning:
    'An inspector and a custodian take blanks of a melt, which a ruling lets be struck, from receiving into the press room. It never says that the blanks are good.',
  body: blanksTaken,
  postings: postingsOfBlanksTaken,
  things: (body) => [melt(body.melt)],
  apply: applyBlanksTaken,
});

export const RunOpened = defineKind<RunOpenedBody>({
  kind: 'RunOpened',
  version: 1,
  station,
  meaning:
    'Two people put a die pair and a collar into a press for one melt. No piece of the run counts before its first strike is approved.',
  body: runOpened,
  postings: 'moves nothing',
  things: (body) => [
    run(body.run),
    { thing: 'press', id: body.press },
    ...diesOf(body),
    melt(body.melt),
  ],
  descents: (body): Descent[] =>
    [melt(body.melt), ...diesOf(body)].map((parent) => ({ parent, child: run(body.run) })),
  apply: applyRunOpened,
});

export const StrikeRecorded = defineKind<StrikeRecordedBody>({
  kind: 'StrikeRecorded',
  version: 1,
  station,
  meaning:
    'A person examined one struck piece: its readings, photographs and verdict. It speaks of that piece, and of those before it only as far as the next check finds nothing.',
  body: strikeRecorded,
  postings: 'moves nothing',
  things: (body) => [
    run(body.run),
    strike(body),
    melt(body.melt),
    ...body.photographs.map(({ sha256 }) => photograph(sha256)),
  ],
  descents: (body) => [
    { parent: run(body.run), child: strike(body) },
    ...body.photographs.map(({ sha256 }) => ({ parent: strike(body), child: photograph(sha256) })),
  ],
  instruments: ({ instruments }) => Object.values(instruments),
  apply: applyStrike,
});

export const HoldOpened = defineKind<HoldOpenedBody>({
  kind: 'HoldOpened',
  version: 1,
  station,
  meaning:
    'The plant holds the pieces that a fault could concern, by the family of the defect. It never says that they are bad.',
  body: holdOpened,
  postings: 'moves nothing',
  things: (body) => [
    hold(body.hold),
    ...body.held.map((range) => run(range.run)),
    ...[...new Set(body.held.map((range) => range.melt))].map(melt),
  ],
  descents: (body) => [{ parent: strike(body), child: hold(body.hold) }],
  apply: applyHoldOpened,
});

export const RejectsSetAside = defineKind<RejectsSetAsideBody>({
  kind: 'RejectsSetAside',
  version: 1,
  station,
  meaning:
    'A person takes rejected pieces of a run out of the press room and puts them to the scrap, by the family of their defect.',
  body: rejectsSetAside,
  postings: postingsOfRejects,
  things: (body) => [run(body.run), melt(body.melt)],
  apply: applyRejects,
});

export const RunClosed = defineKind<RunClosedBody>({
  kind: 'RunClosed',
  version: 1,
  station,
  meaning:
    'Two people take the dies out of the press after the last strike was examined, and read its counter. It never says how many pieces are good.',
  body: runClosed,
  postings: 'moves nothing',
  things: (body) => [
    run(body.run),
    { thing: 'press', id: body.press },
    ...diesOf(body),
    melt(body.melt),
  ],
  apply: applyRunClosed,
});

export const PiecesDelivered = defineKind<PiecesDeliveredBody>({
  kind: 'PiecesDelivered',
  version: 1,
  station,
  meaning:
    'A person counts and weighs struck pieces of a run and sends them to put-up. They are in transit until put-up accepts them.',
  body: piecesDelivered,
  postings: postingsOfDelivery,
  things: (body) => [run(body.run), melt(body.melt), ...diesOf(body)],
  apply: applyDelivery,
});

export const HoldResolved = defineKind<HoldResolvedBody>({
  kind: 'HoldResolved',
  version: 1,
  station,
  meaning:
    'The chief assayer rules on held pieces: released, or scrap. Scrap stays where it is until somebody sets it aside.',
  body: holdResolved,
  postings: 'moves nothing',
  things: (body) => [
    hold(body.hold),
    ...body.held.map((range) => run(range.run)),
    ...[...new Set(body.held.map((range) => range.melt))].map(melt),
  ],
  apply: applyHoldResolved,
});

export const pressRoomKinds = [
  BlanksTaken,
  RunOpened,
  StrikeRecorded,
  HoldOpened,
  RejectsSetAside,
  RunClosed,
  PiecesDelivered,
  HoldResolved,
] as const;
