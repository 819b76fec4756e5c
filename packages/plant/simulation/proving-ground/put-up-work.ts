import { balances } from '../demonstration/instruments.ts';
import { heapGrams } from '../demonstration/metal.ts';
import { blanksLeft } from '../demonstration/press-work.ts';
import { type MeltAtWork, nextNumber } from '../demonstration/state.ts';
import { packWaiting } from './boxes.ts';
import { type Ground, unexpected } from './ground.ts';
import { recordMove } from './record-move.ts';
import { type Bench, clearShortage, openTube, weighTube } from './tube-acts.ts';
import { disturbTube, fillWrongly } from './tube-faults.ts';
import { idOf, standardOf, type TrueTube } from './world.ts';

/** So often a tube is weighed before it is opened in any case. */
const mostWeighings = 7;

/** So many tubes of one melt at one bench are opened in a row and found right before people stop. */
const mostStoppedInARow = 4;

/** Fills tubes and packs boxes until the presses rest and no melt gives a tube any more. */
export async function putUp(ground: Ground, bench: Bench): Promise<void> {
  const blocked = new Set<string>();
  const stopped = new Map<string, number>();
  for (;;) {
    const melt = ground.world.melts.find(
      (one) => one.loose.length >= one.truth.standard.piecesPerTube && !blocked.has(idOf(one)),
    );
    if (melt) {
      const filled = await fillTube(ground, bench, melt);
      const inARow = filled === 'opened and right' ? (stopped.get(idOf(melt)) ?? 0) + 1 : 0;
      stopped.set(idOf(melt), inARow);
      const isStuck = inARow >= mostStoppedInARow && !isBalanceMended(ground, melt);
      if (filled === 'no such pieces' || isStuck) blocked.add(idOf(melt));
      await packWaiting(ground, bench, standardOf(melt));
    } else if (ground.pressesAtWork > 0) await ground.crew.turn(300);
    else return;
  }
}

/**
 * The weighings stop every tube of a melt although the counts are right: a drifting balance is
 * adjusted; where it does not drift, people leave the melt alone. Answers whether they go on.
 */
function isBalanceMended(ground: Ground, melt: MeltAtWork): boolean {
  if (ground.balances.isDrifting('tubes')) {
    ground.balances.adjust('tubes');
    ground.ledger.found('balance/tubes', 'count by weight');
    return true;
  }
  const words = `${mostStoppedInARow} tubes of melt ${idOf(melt)} in a row were stopped and held the right count; put-up leaves the melt for this shift`;
  ground.obstacles.push({ shift: ground.ledger.shift, words });
  return false;
}

/** What came of filling a tube. */
type Filled = 'closed' | 'opened' | 'opened and right' | 'no such pieces';

/** Fills, closes and weighs one tube. */
async function fillTube(ground: Ground, bench: Bench, melt: MeltAtWork): Promise<Filled> {
  const { standard } = melt.truth;
  const name = nextNumber(ground, standard.metal === 'gold' ? 'TG' : 'TS', 6);
  const tareGrams = ground.chance.normal(
    standard.tubeTareGrams,
    standard.tubeTareStandardDeviationGrams / 2,
  );
  const tube: TrueTube = {
    tube: name,
    melt,
    heap: fillWrongly(ground, name, melt) ?? melt.loose.splice(0, standard.piecesPerTube),
    label: standard.piecesPerTube,
    tareGrams,
    netMicrograms: 0,
  };
  for (let weighing = 1; weighing <= mostWeighings; weighing += 1) {
    const state = await weighTube(ground, bench, tube);
    if (state === 'no such pieces') {
      // The tube is emptied again, and whatever was wrong with it is gone.
      ground.ledger.found(`tube/${tube.tube}`, 'rule that refuses');
      melt.loose.push(...tube.heap.splice(0));
      return 'no such pieces';
    }
    if (state === 'stopped' || (state === 'weigh again' && weighing === mostWeighings)) {
      const isRight = tube.heap.length === tube.label;
      await openOnSuspicion(ground, bench, tube);
      return isRight ? 'opened and right' : 'opened';
    }
    if (state !== 'proved') continue;
    close(ground, tube);
    return 'closed';
  }
  melt.loose.push(...tube.heap.splice(0));
  return 'opened';
}

function close(ground: Ground, tube: TrueTube): void {
  ground.world.tubes.set(tube.tube, tube);
  const waiting = ground.openTubes.get(standardOf(tube.melt)) ?? [];
  ground.openTubes.set(standardOf(tube.melt), waiting);
  waiting.push({ tube: tube.tube, grossGrams: 0 });
  disturbTube(ground, tube);
}

/** The weighings stopped the tube, or never proved it. */
async function openOnSuspicion(ground: Ground, bench: Bench, tube: TrueTube): Promise<void> {
  const found = tube.heap.length;
  const words = `tube ${tube.tube} was opened and held ${found} of ${tube.label}`;
  await openTube(ground, bench, tube);
  const thing = `tube/${tube.tube}`;
  // A balance that drifts is no false alarm, though this tube is not what is wrong.
  if (ground.balances.isDrifting('tubes')) ground.ledger.found(thing, 'count by weight');
  else ground.ledger.alarm(thing, 'count by weight', words);
}

/** What is left loose of melts that give no more is kept for later trial. */
export async function setLeftoversAside(ground: Ground): Promise<void> {
  const { world } = ground;
  for (const melt of world.melts) {
    const isDone = melt.ruling === 'release' && blanksLeft(melt) === 0;
    if (!isDone || melt.loose.length === 0) continue;
    const heap = melt.loose.slice();
    const act = {
      by: 'jonas',
      with: 'milo',
      command: 'set-aside-pieces',
      input: {
        melt: idOf(melt),
        pieces: heap.length,
        gross: ground.balances.net('tubes', heapGrams(heap)),
        instrument: balances.tubes.instrument,
      },
      seconds: 120,
    } as const;
    const places = ['put-up', 'archive'] as const;
    const move = { said: heap.length, moved: heap.length, places, pieceStandard: standardOf(melt) };
    const tried = await recordMove(ground, act, move);
    if (tried.recorded) {
      melt.loose.splice(0);
      world.heapOf(world.archive, standardOf(melt)).push(...heap);
    } else if (tried.refusals.includes('NotEnoughLoosePieces')) await clearShortage(ground, melt);
    else throw unexpected(act, tried);
  }
}
