import { defineKind } from '../../../journal/station.ts';
import { seesBook } from '../sees-book.ts';
import {
  containersPutAway,
  type ContainersPutAway as PutAwayBody,
  type RackChecked as RackCheckedBody,
  type RackCounted as RackCountedBody,
  type RackOpened as RackOpenedBody,
  rackChecked,
  rackCounted,
  rackOpened,
} from './bodies.ts';
import { applyPutAway, applyRackChecked, applyRackCounted, applyRackOpened } from './read-model.ts';

const station = 'account';

export const RackOpened = defineKind<RackOpenedBody>({
  kind: 'RackOpened',
  version: 1,
  station,
  meaning: 'A rack, shelf or safe inside a place gets a name. Nothing is put into it by this.',
  body: rackOpened,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'rack', id: body.rack }],
  apply: applyRackOpened,
});

export const ContainersPutAway = defineKind<PutAwayBody>({
  kind: 'ContainersPutAway',
  version: 1,
  station,
  meaning:
    'A person puts containers into a rack of the place where they lie. They stay at the place, so that no metal moves in the account.',
  body: containersPutAway,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'rack', id: body.rack },
    ...body.containers.map(({ thing, container }) => ({ thing, id: container })),
  ],
  apply: applyPutAway,
});

export const RackChecked = defineKind<RackCheckedBody>({
  kind: 'RackChecked',
  version: 1,
  station,
  meaning:
    'A person scans every container in a rack. It says what was there, and opens no seal and counts no piece.',
  body: rackChecked,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'rack', id: body.rack }],
  apply: applyRackChecked,
});

export const RackCounted = defineKind<RackCountedBody>({
  kind: 'RackCounted',
  version: 1,
  station,
  meaning:
    'A person counted and weighed what lies in a rack without seeing what should lie there. It becomes part of the tally of its place, and is none by itself.',
  body: rackCounted,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'rack', id: body.rack }],
  readableBy: seesBook,
  apply: applyRackCounted,
});

export const rackKinds = [RackOpened, ContainersPutAway, RackChecked, RackCounted] as const;
