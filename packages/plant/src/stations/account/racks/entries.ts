import { defineKind } from '../../../journal/station.ts';
import {
  containersPutAway,
  type ContainersPutAway as PutAwayBody,
  type RackChecked as RackCheckedBody,
  type RackOpened as RackOpenedBody,
  rackChecked,
  rackOpened,
} from './bodies.ts';
import { applyPutAway, applyRackChecked, applyRackOpened } from './read-model.ts';

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

export const rackKinds = [RackOpened, ContainersPutAway, RackChecked] as const;
