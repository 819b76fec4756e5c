import { expect, it } from 'vitest';
import type { Ground } from './ground.ts';
import { sizeFor } from './plant-size.ts';
import { groundOf } from './prove.ts';
import { standardsOf } from './standards.ts';
import { keepOtherTubeOpen } from './tube-faults.ts';

/** Two tubes in put-up: a piece of T-1 lies in T-2, and a search has found T-1 short. */
async function foundShort(): Promise<{
  ground: Ground;
  fault: Ground['ledger']['planted'][number];
}> {
  const size = sizeFor(1500);
  const [standard] = standardsOf(size);
  if (!standard) throw new RangeError('the plant strikes nothing');
  const ground = await groundOf({ seed: 1, size, mix: () => 0 });
  const fault = ground.ledger.plant('piece put into the wrong tube', {
    words: 'a piece of tube T-1 lies in tube T-2',
    seenAt: ['tube/T-1', 'tube/T-2'],
    places: ['put-up'],
    pieceStandard: standard.pieceStandard,
  });
  ground.ledger.found('tube/T-1', 'search');
  ground.world.openedTubes.add('T-1');
  return { ground, fault };
}

it('stays open while the other tube is shut, so that its piece can be signed for', async () => {
  const { ground, fault } = await foundShort();
  keepOtherTubeOpen(ground, 'T-1');
  expect(fault).toMatchObject({ state: 'planted', control: 'search' });
  const signed = ground.ledger.sign('put-up', fault.pieceStandard ?? '', 'nothing showed it');
  expect(signed).toEqual([fault]);
});

it('is found when both tubes have been opened', async () => {
  const { ground, fault } = await foundShort();
  ground.world.openedTubes.add('T-2');
  keepOtherTubeOpen(ground, 'T-1');
  expect(fault.state).toBe('found');
});
