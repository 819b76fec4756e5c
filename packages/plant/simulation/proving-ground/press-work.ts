import { sha256Hex } from '../../src/journal/entry.ts';
import { balances } from '../demonstration/instruments.ts';
import { type Heap, heapGrams } from '../demonstration/metal.ts';
import { blanksLeft } from '../demonstration/press-work.ts';
import { measure, weigh } from '../demonstration/readings.ts';
import { type MeltAtWork, nextNumber } from '../demonstration/state.ts';
import { deliver } from './deliveries.ts';
import { type Act, attempt, type Ground, someone, unexpected } from './ground.ts';
import { losePieces } from './losses.ts';
import { recordMove, transposed } from './record-move.ts';
import { setRejectsAside } from './rejects.ts';
import { idOf, standardOf } from './world.ts';

/** A press with who works at it. */
export interface Press {
  readonly press: string;
  readonly pieceStandard: string;
  readonly inspector: string;
  /** Ids of its dies: obverse, reverse, collar. */
  readonly dies: { readonly obverse: string; readonly reverse: string; readonly collar: string };
}

/** A run at work. */
interface Run {
  readonly press: Press;
  readonly melt: MeltAtWork;
  readonly run: string;
  /** Blanks and pieces of the run as they really are. */
  readonly heap: Heap;
}

/** Fewer blanks than these are not worth a run. */
const leastBlanks = 12;

/** Blanks that lie ready for a run. */
interface Ready {
  readonly melt: MeltAtWork;
  readonly heap: Heap;
}

/** So often a press looks for blanks, once in ten minutes, before it gives up for the shift. */
const mostWaits = 30;

/** Strikes as many runs as a shift has, while there are blanks. */
export async function strike(ground: Ground, press: Press): Promise<void> {
  try {
    const { runsPerShift, piecesPerRun } = ground.size;
    const { behind } = ground;
    let left = (behind.get(press.press) ?? 0) + runsPerShift * piecesPerRun;
    // What one run is longer than planned, a later one need not strike; half a run is none.
    for (let made = 0; made < runsPerShift && left >= piecesPerRun / 2; made += 1) {
      const ready = await readyBlanks(ground, press);
      if (!ready) break;
      left -= ready.heap.length;
      await runPress(ground, press, ready);
    }
    behind.set(press.press, left);
  } finally {
    ground.pressesAtWork -= 1;
  }
}

/** Blanks of a released melt for one run, taken out of their drums as soon as they are seen. */
async function readyBlanks(ground: Ground, press: Press): Promise<Ready | undefined> {
  for (let wait = 0; wait < mostWaits; wait += 1) {
    const melt = ground.world.melts.find(
      (one) =>
        one.ruling === 'release' &&
        standardOf(one) === press.pieceStandard &&
        blanksLeft(one) >= leastBlanks,
    );
    if (melt) return { melt, heap: takeOut(ground, melt, piecesOfRun(ground, melt)) };
    await ground.crew.turn(600);
  }
  return undefined;
}

/** In a large plant a melt is shared out evenly to as many whole runs as it gives. */
function piecesOfRun({ size }: Ground, melt: MeltAtWork): number {
  if (!size.isLarge) return size.piecesPerRun;
  const left = blanksLeft(melt);
  return Math.ceil(left / Math.max(1, Math.floor(left / size.piecesPerRun)));
}

async function runPress(ground: Ground, press: Press, { melt, heap }: Ready): Promise<void> {
  if (!(await takeBlanks(ground, { press, melt, heap }))) return;
  const run = nextNumber(ground, 'RUN-', 5);
  const counterBefore = ground.counters.get(press.press) ?? 120_000;
  const people = { by: someone(press.inspector), with: 'bettina' } as const;
  await ground.hand.do({
    ...people,
    command: 'open-run',
    input: { run, press: press.press, ...press.dies, melt: idOf(melt), counterBefore },
    seconds: 600,
  });
  const atWork = { press, melt, run, heap };
  const strokes = heap.length;
  await strikeAll(ground, atWork);
  const counterAfter = counterBefore + strokes;
  const input = { run, counterAfter };
  await ground.hand.do({ ...people, command: 'close-run', input, seconds: 240 });
  ground.counters.set(press.press, counterAfter);
  ground.world.struck += strokes;
  losePieces(ground, { place: 'press-room', melt, heap });
  await sendAway(ground, atWork);
}

/** Rejects and good pieces leave; what is left behind lies in the press room. */
async function sendAway(ground: Ground, { press, melt, run, heap }: Run): Promise<void> {
  const { chance, world } = ground;
  const { inspector } = press;
  const bad = chance.uniform() < 0.7 ? heap.splice(0, chance.whole(1, 14)) : [];
  const rejects = { melt, run, heap: bad, inspector };
  const isBefore = chance.uniform() < 0.5;
  if (isBefore && bad.length > 0) await setRejectsAside(ground, rejects);
  await deliver(ground, { melt, run, heap, inspector });
  if (!isBefore && bad.length > 0) await setRejectsAside(ground, rejects);
  world.heapOf(world.press, idOf(melt)).push(...heap.splice(0));
}

/** Takes blanks out of their drums, which are open from now on. */
function takeOut(ground: Ground, melt: MeltAtWork, pieces: number): Heap {
  const taken: Heap = [];
  for (const [drum, heap] of melt.drums) {
    if (taken.length === pieces || heap.length === 0) continue;
    taken.push(...heap.splice(0, pieces - taken.length));
    ground.world.sealedDrums.delete(drum);
  }
  return taken;
}

/** Records that blanks were taken; answers false when the record has fewer at receiving, and they go back. */
async function takeBlanks(
  ground: Ground,
  of: { press: Press; melt: MeltAtWork; heap: Heap },
): Promise<boolean> {
  const { press, melt, heap } = of;
  const { ledger } = ground;
  const counted = heap.length;
  const isMiscounted = ledger.happens('blanks miscounted');
  if (isMiscounted) putBack(melt, heap);
  const act = (said: number): Act => ({
    by: someone(press.inspector),
    with: 'bettina',
    command: 'take-blanks',
    input: {
      melt: idOf(melt),
      pieces: said,
      gross: ground.balances.net('press', heapGrams(heap)),
      instrument: balances.press.instrument,
    },
    seconds: 300,
  });
  await transposeFirst(ground, act, counted);
  const places = ['receiving', 'press-room'] as const;
  const pieceStandard = standardOf(melt);
  const record = (said: number) =>
    recordMove(ground, act(said), { said, moved: heap.length, places, pieceStandard });
  let tried = await record(counted);
  const isOutweighed = isMiscounted && tried.refusals.includes('PiecesDoNotFitMass');
  if (isOutweighed) tried = await record(heap.length);
  if (tried.refusals.includes('NotEnoughPieces')) {
    putBack(melt, heap, heap.length);
    return false;
  }
  const entry = tried.recorded?.entries[0]?.number;
  if (entry === undefined) throw unexpected(act(counted), tried);
  if (!isMiscounted) return true;
  const fault = ledger.plant('blanks miscounted', {
    words: `${counted} blanks of melt ${idOf(melt)} written, ${heap.length} taken, entry ${entry}`,
    seenAt: [`blanks/${entry}`, `entry ${entry}`],
    places,
    pieceStandard,
  });
  if (isOutweighed) ledger.settle(fault, 'rule that refuses');
  return true;
}

/** Blanks stay in a drum that is open. */
function putBack(melt: MeltAtWork, heap: Heap, pieces = 1): void {
  const [first] = melt.drums.values();
  first?.push(...heap.splice(0, pieces));
}

/** Somebody types the digits of the pieces in the wrong order; the mass does not fit them. */
async function transposeFirst(
  ground: Ground,
  act: (said: number) => Act,
  counted: number,
): Promise<void> {
  const swapped = transposed(counted);
  if (swapped === undefined || !ground.ledger.happens('digits of an entry transposed')) return;
  const words = `${swapped} blanks typed instead of ${counted}`;
  const fault = ground.ledger.plant('digits of an entry transposed', { words, seenAt: [] });
  const tried = await attempt(ground, act(swapped));
  if (tried.recorded) throw new Error(`${words}, and recorded`);
  ground.ledger.settle(fault, 'rule that refuses');
}

/** Examines the first strike, one in the middle and the last. */
async function strikeAll(ground: Ground, run: Run): Promise<void> {
  const strokes = run.heap.length;
  const middle = Math.round(strokes / 2);
  await examine(ground, run, { occasion: 'first', strikeNumber: 1 });
  if (middle > 1) await examine(ground, run, { occasion: 'roving', strikeNumber: middle });
  if (strokes > middle) await examine(ground, run, { occasion: 'last', strikeNumber: strokes });
}

async function examine(
  ground: Ground,
  { press, melt, run, heap }: Run,
  strikeOf: { occasion: 'first' | 'roving' | 'last'; strikeNumber: number },
): Promise<void> {
  const { standard } = melt.truth;
  const { chance } = ground;
  const diameter = (standard.diameterLeastMillimetres + standard.diameterGreatestMillimetres) / 2;
  const thickness =
    (standard.thicknessLeastMillimetres + standard.thicknessGreatestMillimetres) / 2;
  const photographs = (['obverse', 'reverse', 'edge'] as const).map((face) => ({
    face,
    sha256: sha256Hex(`${run} ${strikeOf.strikeNumber} ${face}`),
  }));
  await ground.hand.do({
    by: someone(press.inspector),
    command: 'record-strike',
    input: {
      run,
      ...strikeOf,
      mass: weigh(balances.blanks, heap[strikeOf.strikeNumber - 1] ?? 0, chance),
      diameter: measure(diameter + chance.normal(0, 0.006), chance),
      thickness: measure(thickness + chance.normal(0, 0.015), chance),
      instruments: { mass: balances.blanks.instrument, diameter: 'MIC-2', thickness: 'MIC-2' },
      photographs,
      verdict: 'approved',
      defect: null,
    },
    seconds: strikeOf.occasion === 'first' ? 600 : 1800,
  });
}
