import { blanksLeft } from '../demonstration/press-work.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import type { Ground } from './ground.ts';
import { idOf } from './world.ts';

/** Shifts in which nothing of a melt lies anywhere before people forget it: two days. */
const idleShifts = 6;

/** Shifts for which the papers of entries that agree with what was done are kept. */
const papersShifts = 30;

/** Melts of which a piece lies in a tube or a box, under way, under a bench or where no entry says. */
function meltsUnderWay({ world }: Ground): ReadonlySet<MeltAtWork> {
  const boxed = [...world.boxes.values()].flatMap(({ tubes }) => tubes);
  const things = [
    ...world.tubes.values(),
    ...boxed,
    ...world.deliveries.values(),
    ...world.arrived.values(),
    ...world.fallen,
    ...world.rejectsUnwritten,
    ...world.samplesUnwritten,
  ];
  return new Set(things.map(({ melt }) => melt));
}

function isGone(ground: Ground, melt: MeltAtWork): boolean {
  const { world, ledger } = ground;
  const isAtWork = melt.ruling === 'none' || blanksLeft(melt) > 0 || melt.loose.length > 0;
  if (isAtWork || ledger.at(`melt/${idOf(melt)}`).length > 0) return false;
  const lying = [world.press, world.laboratory].map((heaps) => heaps.get(idOf(melt))?.length ?? 0);
  return lying.every((pieces) => pieces === 0);
}

/**
 * At the end of a shift people forget the melts of which nothing has lain anywhere for two days, and
 * the papers of long ago that agree with their entries: a year must not be carried about.
 */
export function forgetWhatIsGone(ground: Ground): void {
  const { world, melts, idle } = ground;
  const underWay = meltsUnderWay(ground);
  for (const melt of world.melts) {
    const isIdle = !underWay.has(melt) && isGone(ground, melt);
    if (isIdle) idle.melts.set(melt, (idle.melts.get(melt) ?? 0) + 1);
    else idle.melts.delete(melt);
  }
  const kept = world.melts.filter((melt) => (idle.melts.get(melt) ?? 0) < idleShifts);
  if (kept.length < world.melts.length) {
    const isKept = new Set(kept);
    for (const melt of world.melts) {
      if (isKept.has(melt)) continue;
      idle.melts.delete(melt);
      world.press.delete(idOf(melt));
    }
    world.melts.splice(0, world.melts.length, ...kept);
    melts.splice(0, melts.length, ...kept);
  }
  forgetPapers(ground);
}

function forgetPapers({ world, ledger, idle, shiftBegan }: Ground): void {
  idle.shiftsBegan.push(shiftBegan.entry);
  if (idle.shiftsBegan.length <= papersShifts) return;
  const before = idle.shiftsBegan.shift() ?? 0;
  for (const [entry, { said, moved }] of world.papers) {
    if (entry >= before) break;
    if (said === moved && ledger.at(`entry ${entry}`).length === 0) world.papers.delete(entry);
  }
}
