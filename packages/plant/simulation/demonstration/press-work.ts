import { balances } from './instruments.ts';
import { type Heap, heapGrams, take } from './metal.ts';
import { strikePhotograph } from './photographs.ts';
import { measure, weigh } from './readings.ts';
import { type MeltAtWork, nextNumber, type Scene } from './state.ts';

/** A run as it is planned. */
export interface RunPlan {
  readonly melt: MeltAtWork;
  readonly pieces: number;
  readonly press: string;
  readonly obverse: string;
  readonly reverse: string;
  readonly collar: string;
  readonly inspector: 'wren' | 'milo';
  readonly custodian: 'bettina' | 'jonas';
  /** Strike at which a crack of the obverse die is seen; none when left out. */
  readonly crackSeenAtStrike?: number;
  /** Who signs at put-up that the pieces came; without one the move stays signed by one side only. */
  readonly acceptedBy?: 'bettina' | 'jonas';
}

/** Blanks that lie at receiving and may still be taken. */
export function blanksLeft(melt: MeltAtWork): number {
  return [...melt.drums.values()].reduce((sum, heap) => sum + heap.length, 0);
}

/** Strikes pieces of a melt from taking its blanks to delivering them to put-up. */
export async function runPress(scene: Scene, plan: RunPlan): Promise<void> {
  const { hand, chance } = scene;
  const { melt } = plan.melt.truth;
  const heap = takeFromDrums(plan.melt, plan.pieces);
  const people = { by: plan.inspector, with: plan.custodian } as const;
  const weighed = () => ({
    gross: weigh(balances.press, heapGrams(heap), chance),
    instrument: balances.press.instrument,
  });
  await hand.do({
    ...people,
    command: 'take-blanks',
    input: { melt, pieces: heap.length, ...weighed() },
    seconds: 300,
  });
  const run = nextNumber(scene, 'RUN-', 4);
  const counterBefore = scene.counters.get(plan.press) ?? 120_000;
  const { press, obverse, reverse, collar } = plan;
  await hand.do({
    ...people,
    command: 'open-run',
    input: { run, press, obverse, reverse, collar, melt, counterBefore },
    seconds: 600,
  });
  const isHeld = await strikeAll(scene, { plan, run, heap });
  await hand.do({
    ...people,
    command: 'close-run',
    input: { run, counterAfter: counterBefore + heap.length },
    seconds: 240,
  });
  scene.counters.set(plan.press, counterBefore + heap.length);
  if (isHeld) {
    const { pieceStandard } = plan.melt.truth.standard;
    scene.equipment?.heldGrams.set(pieceStandard, heapGrams(heap));
    return;
  }
  const sent = await hand.do({
    by: plan.inspector,
    command: 'deliver-pieces',
    input: { melt, run, pieces: heap.length, ...weighed() },
    seconds: 300,
  });
  if (plan.acceptedBy === undefined) return;
  await hand.do({
    by: plan.acceptedBy,
    command: 'accept-delivery',
    input: { delivery: sent.entries[0]?.number, pieces: heap.length },
    seconds: 240,
  });
  plan.melt.loose.push(...heap);
}

function takeFromDrums(melt: MeltAtWork, pieces: number): Heap {
  const heap: Heap = [];
  for (const drum of melt.drums.values()) {
    heap.push(...take(drum, Math.min(drum.length, pieces - heap.length)));
  }
  if (heap.length < pieces) throw new RangeError(`${melt.truth.melt} has too few blanks`);
  return heap;
}

/** Examines the first strike, one in the middle and the last; answers whether pieces are held. */
async function strikeAll(
  scene: Scene,
  options: { plan: RunPlan; run: string; heap: Heap },
): Promise<boolean> {
  const { plan, run, heap } = options;
  const middle = Math.round(heap.length / 2);
  const crack = plan.crackSeenAtStrike;
  const strikes = [
    { occasion: 'first', strikeNumber: 1 },
    { occasion: 'roving', strikeNumber: middle },
    { occasion: 'last', strikeNumber: heap.length },
  ] as const;
  for (const { occasion, strikeNumber } of strikes) {
    const cracked = crack !== undefined && strikeNumber >= crack;
    await examineStrike(scene, { plan, run, heap, occasion, strikeNumber, cracked });
  }
  return crack !== undefined;
}

async function examineStrike(
  scene: Scene,
  options: {
    plan: RunPlan;
    run: string;
    heap: Heap;
    occasion: 'first' | 'roving' | 'last';
    strikeNumber: number;
    cracked: boolean;
  },
): Promise<void> {
  const { plan, run, heap, occasion, strikeNumber, cracked } = options;
  const { chance, hand } = scene;
  const { standard } = plan.melt.truth;
  const diameter = (standard.diameterLeastMillimetres + standard.diameterGreatestMillimetres) / 2;
  const thickness =
    (standard.thicknessLeastMillimetres + standard.thicknessGreatestMillimetres) / 2;
  const photographs = [];
  for (const face of ['obverse', 'reverse', 'edge'] as const) {
    const isCracked = cracked && face === 'obverse';
    const kept = await scene.attachments.keep(
      strikePhotograph({ face, strikeNumber, cracked: isCracked }),
    );
    if (!kept.kept || kept.sha256 === undefined) throw new Error('a photograph was not kept');
    photographs.push({ face, sha256: kept.sha256 });
  }
  await hand.do({
    by: plan.inspector,
    command: 'record-strike',
    input: {
      run,
      occasion,
      strikeNumber,
      mass: weigh(balances.blanks, heap[strikeNumber - 1] ?? 0, chance),
      diameter: measure(diameter + chance.normal(0, 0.006), chance),
      thickness: measure(thickness + chance.normal(0, 0.015), chance),
      instruments: { mass: balances.blanks.instrument, diameter: 'MIC-2', thickness: 'MIC-2' },
      photographs,
      verdict: cracked ? 'fault' : 'approved',
      defect: cracked
        ? { family: 'die or collar', words: 'A crack of the die runs over the field.' }
        : null,
    },
    seconds: occasion === 'first' ? 600 : 1800,
  });
}
