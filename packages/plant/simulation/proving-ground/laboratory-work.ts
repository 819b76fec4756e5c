import { examineMelt } from '../demonstration/laboratory-work.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import { attempt, type Ground } from './ground.ts';
import { idOf } from './world.ts';

/** Examines what was drawn and rules on it; what is not good goes back to its supplier. */
export async function examineAll(ground: Ground): Promise<void> {
  // What an inspector is drawing just now has not come to the laboratory yet.
  const waiting = () =>
    ground.world.melts.find((melt) => !melt.examined && ground.world.laboratory.has(idOf(melt)));
  for (let melt = waiting(); melt; melt = waiting()) {
    await examineMelt(ground, melt);
    ground.world.laboratory.delete(idOf(melt));
    relabelReturned(ground, melt);
    await rule(ground, melt);
  }
}

/** Blanks that went back lie in the first drum of their melt. */
function relabelReturned(ground: Ground, melt: MeltAtWork): void {
  const [drum] = melt.drums.keys();
  const label = drum === undefined ? undefined : ground.world.sealedDrums.get(drum);
  if (drum === undefined || label === undefined) return;
  const returned = melt.drawn.size - melt.assayBlanks.length;
  ground.world.sealedDrums.set(drum, label + returned);
}

async function rule(ground: Ground, melt: MeltAtWork): Promise<void> {
  const name = idOf(melt);
  const ruling = (what: string, reason: string) => ({
    by: 'orla' as const,
    command: 'rule-melt',
    input: { melt: name, ruling: what, reason },
    seconds: 300,
  });
  const release = 'The result and its guard band lie above the limit.';
  const tried = await attempt(ground, ruling('release', release));
  if (tried.recorded) {
    melt.ruling = 'release';
    return;
  }
  ground.ledger.alarm(`melt/${name}`, 'laboratory', `melt ${name}: ${tried.refusals.join(', ')}`);
  await ground.hand.do(ruling('refuse', `Not released: ${tried.refusals.join(', ')}.`));
  await ground.hand.do({
    by: 'bettina',
    with: 'wren',
    command: 'return-melt',
    input: { melt: name, document: `Return note ${name}` },
    seconds: 900,
  });
  melt.ruling = 'refuse';
  for (const drum of melt.drums.keys()) ground.world.sealedDrums.delete(drum);
  melt.drums.clear();
}
