import { expect, it } from 'vitest';
import { chanceFrom } from '../chance.ts';
import { makeMelt } from '../demonstration/metal.ts';
import { examineAll } from './laboratory-work.ts';
import { sizeFor } from './plant-size.ts';
import { groundOf } from './prove.ts';
import { standardsOf } from './standards.ts';

it('leaves a melt alone whose blanks an inspector is drawing just now', {
  timeout: 10_000,
}, async () => {
  const size = sizeFor(1500);
  const [standard] = standardsOf(size);
  if (!standard) throw new RangeError('the plant strikes nothing');
  const ground = await groundOf({ seed: 1, size, mix: () => 0 });
  const made = { melt: 'OS-0001', standard, marginPerMille: 0.3, isThick: false };
  const melt = {
    truth: makeMelt(made, chanceFrom(1)),
    consignment: 'C-0001',
    drums: new Map(),
    // Taken out of their drums; the entry that says so is still to come.
    drawn: new Map([['OS-0001-B1', standard.massDeclaredMilligrams / 1000]]),
    loose: [],
    assayBlanks: ['OS-0001-B1'],
    examined: false,
    ruling: 'none' as const,
  };
  ground.world.melts.push(melt);
  await examineAll(ground);
  expect(melt.examined).toBe(false);
  expect(ground.hand.commands).toBe(0);
});
