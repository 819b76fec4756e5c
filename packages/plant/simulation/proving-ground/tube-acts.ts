import { bodyOf } from '../demonstration/hand.ts';
import { balances } from '../demonstration/instruments.ts';
import { heapGrams } from '../demonstration/metal.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import { accept } from './deliveries.ts';
import { attempt, type Ground, someone, unexpected } from './ground.ts';
import { keepOtherTubeOpen } from './tube-faults.ts';
import { idOf, type TrueTube } from './world.ts';

/** A bench of put-up with its custodian. */
export interface Bench {
  readonly custodian: string;
}

/** Weighs a closed tube once; answers what the weighing says. */
export async function weighTube(ground: Ground, bench: Bench, tube: TrueTube): Promise<string> {
  const { ledger } = ground;
  const thing = `tube/${tube.tube}`;
  const load = { grams: heapGrams(tube.heap), tareGrams: tube.tareGrams, thing };
  const input = {
    tube: tube.tube,
    melt: idOf(tube.melt),
    pieces: tube.label,
    ...ground.balances.grossAndTare('tubes', load),
    instrument: balances.tubes.instrument,
  };
  const by = someone(bench.custodian);
  const act = { by, command: 'weigh-tube', input, seconds: 50 } as const;
  const tried = await attempt(ground, act);
  if (tried.recorded) {
    const body = bodyOf(tried.recorded, 'TubeWeighed');
    tube.netMicrograms = Number(body['netMicrograms']);
    const state = String(body['state']);
    if (state === 'weigh again') ledger.found(thing, 'count by weight', { family: 'instruments' });
    return state;
  }
  if (tried.refusals.includes('TareNotBelowGross')) {
    ledger.found(thing, 'rule that refuses', { family: 'instruments' });
    return 'weigh again';
  }
  if (!tried.refusals.includes('NotEnoughLoosePieces')) throw unexpected(act, tried);
  return (await clearShortage(ground, tube.melt)) ? 'weigh again' : 'no such pieces';
}

/** The record says that fewer pieces are loose than lie on the bench: a delivery was not signed for, or melts were mixed. */
export async function clearShortage(ground: Ground, melt: MeltAtWork): Promise<boolean> {
  const { ledger, world, mends } = ground;
  const delivery = [...world.arrived.values()].find((one) => one.melt === melt);
  if (delivery) {
    world.arrived.delete(delivery.entry);
    ledger.found(`accept/${delivery.entry}`, 'rule that refuses');
    await accept(ground, delivery);
    return true;
  }
  const mixed = ledger.found(`melt/${idOf(melt)}`, 'rule that refuses');
  for (const { number } of mixed) mends.get(number)?.();
  if (mixed.length === 0) noteShortage(ground, melt);
  return false;
}

/** Opens a tube with a second person and puts its pieces back to the loose ones. */
export async function openTube(ground: Ground, bench: Bench, tube: TrueTube): Promise<void> {
  await ground.hand.do({
    by: someone(bench.custodian),
    with: 'milo',
    command: 'open-tube',
    input: { tube: tube.tube, piecesFound: tube.heap.length },
    seconds: 180,
  });
  ground.world.tubes.delete(tube.tube);
  ground.world.openedTubes.add(tube.tube);
  tube.melt.loose.push(...tube.heap.splice(0));
  keepOtherTubeOpen(ground, tube.tube);
}

/** Nothing that is known explains the shortage: said once for each melt. */
function noteShortage({ obstacles, ledger }: Ground, melt: MeltAtWork): void {
  const words = `the record has fewer loose pieces of melt ${idOf(melt)} in put-up than lie there`;
  if (obstacles.some((one) => one.words === words)) return;
  obstacles.push({ shift: ledger.shift, words });
}
