import type { Thing } from '../../journal/entry.ts';
import { defineKind } from '../../journal/station.ts';
import {
  type BoxPacked as BoxPackedBody,
  boxPacked,
  type DeliveryAccepted as DeliveryAcceptedBody,
  deliveryAccepted,
  type PiecesScrapped as PiecesScrappedBody,
  type PiecesSetAside as PiecesSetAsideBody,
  piecesScrapped,
  piecesSetAside,
  type TubeOpened as TubeOpenedBody,
  type TubeWeighed as TubeWeighedBody,
  tubeOpened,
  tubeWeighed,
} from './bodies.ts';
import {
  postingsOfAcceptance,
  postingsOfBox,
  postingsOfPiecesScrapped,
  postingsOfPiecesSetAside,
} from './postings.ts';
import {
  applyBoxPacked,
  applyDeliveryAccepted,
  applyPiecesScrapped,
  applyPiecesSetAside,
  applyTubeOpened,
  applyTubeWeighed,
} from './read-model.ts';
import { weighingsOfAcceptance, weighingsOfBox } from './weighings.ts';

const station = 'put-up';
const tube = (id: string): Thing => ({ thing: 'tube', id });
const box = (id: string): Thing => ({ thing: 'box', id });
const melt = (id: string): Thing => ({ thing: 'melt', id });
const run = (id: string): Thing => ({ thing: 'run', id });

export const DeliveryAccepted = defineKind<DeliveryAcceptedBody>({
  kind: 'DeliveryAccepted',
  version: 1,
  station,
  meaning:
    'A custodian counts the pieces that the press room sent and signs that all of them came. He is not the one who sent them.',
  body: deliveryAccepted,
  postings: postingsOfAcceptance,
  weighings: weighingsOfAcceptance,
  things: (body) => [run(body.run), melt(body.melt)],
  apply: applyDeliveryAccepted,
});

export const TubeWeighed = defineKind<TubeWeighedBody>({
  kind: 'TubeWeighed',
  version: 1,
  station,
  meaning:
    'A custodian weighs a closed tube, and the weighings of this filling say whether its count is proved. The pieces stay in put-up; it never says that they are good.',
  body: tubeWeighed,
  postings: 'moves nothing',
  things: (body) => [tube(body.tube), melt(body.melt), ...body.runs.map(run)],
  descents: (body) => [
    { parent: melt(body.melt), child: tube(body.tube) },
    ...body.runs.map((id) => ({ parent: run(id), child: tube(body.tube) })),
  ],
  apply: applyTubeWeighed,
});

export const TubeOpened = defineKind<TubeOpenedBody>({
  kind: 'TubeOpened',
  version: 1,
  station,
  meaning:
    'Two people open a tube and count what is in it. Its pieces lie loose again; a count other than the booked one is shown, and the shift has to account for it.',
  body: tubeOpened,
  postings: 'moves nothing',
  things: (body) => [tube(body.tube), melt(body.melt)],
  apply: applyTubeOpened,
});

export const BoxPacked = defineKind<BoxPackedBody>({
  kind: 'BoxPacked',
  version: 1,
  station,
  meaning:
    'Two people close a box of proved tubes, weigh it against them and seal it; it goes to the strong room. The box weighing shows what left or entered since the tubes were weighed, and is no second proof of their counts.',
  body: boxPacked,
  postings: postingsOfBox,
  weighings: weighingsOfBox,
  things: (body) => [
    box(body.box),
    { thing: 'seal', id: body.seal },
    ...body.tubes.map((part) => tube(part.tube)),
    ...body.melts.map((part) => melt(part.melt)),
  ],
  descents: (body) => body.tubes.map((part) => ({ parent: tube(part.tube), child: box(body.box) })),
  apply: applyBoxPacked,
});

export const PiecesSetAside = defineKind<PiecesSetAsideBody>({
  kind: 'PiecesSetAside',
  version: 1,
  station,
  meaning: 'Two people put loose pieces of a melt into the archive, for a later trial.',
  body: piecesSetAside,
  postings: postingsOfPiecesSetAside,
  things: (body) => [melt(body.melt)],
  apply: applyPiecesSetAside,
});

export const PiecesScrapped = defineKind<PiecesScrappedBody>({
  kind: 'PiecesScrapped',
  version: 1,
  station,
  meaning:
    'Two people put pieces that were ruled to be scrap, and had come to put-up, to the scrap.',
  body: piecesScrapped,
  postings: postingsOfPiecesScrapped,
  things: (body) => [melt(body.melt)],
  apply: applyPiecesScrapped,
});

export const putUpKinds = [
  DeliveryAccepted,
  TubeWeighed,
  TubeOpened,
  BoxPacked,
  PiecesSetAside,
  PiecesScrapped,
] as const;
