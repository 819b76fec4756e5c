import type { DemonstrationStandard } from './cast.ts';
import { bodyOf } from './hand.ts';
import { balances } from './instruments.ts';
import { type Heap, heapGrams, take } from './metal.ts';
import { weigh } from './readings.ts';
import { type FilledTube, type MeltAtWork, nextNumber, type Scene } from './state.ts';

/** The people at the bench. */
export interface Bench {
  readonly custodian: 'bettina' | 'jonas';
  readonly second: 'wren' | 'milo' | 'bettina' | 'jonas';
}

/**
 * Fills tubes with the loose pieces of a melt, but for those that are kept loose, and packs a box
 * whenever the tubes suffice.
 */
export async function putUp(
  scene: Scene,
  melt: MeltAtWork,
  bench: Bench,
  keptLoose = 0,
): Promise<void> {
  const { standard } = melt.truth;
  const waiting = scene.openTubes.get(standard.pieceStandard) ?? [];
  scene.openTubes.set(standard.pieceStandard, waiting);
  while (melt.loose.length >= standard.piecesPerTube + keptLoose) {
    waiting.push(await fillTube(scene, melt, bench));
    if (waiting.length < standard.tubesPerBox) continue;
    const tubes = waiting.splice(0, standard.tubesPerBox);
    const box = await packBox(scene, { standard, tubes, bench });
    scene.boxesPacked.push({ box, pieceStandard: standard.pieceStandard });
    const netGrams = tubes.reduce((sum, tube) => sum + (tube.netGrams ?? 0), 0);
    scene.equipment?.boxGrams.set(box, netGrams);
  }
}

/** A tube is weighed until its count is proved. */
async function fillTube(scene: Scene, melt: MeltAtWork, bench: Bench): Promise<FilledTube> {
  const { standard } = melt.truth;
  const heap = take(melt.loose, standard.piecesPerTube);
  const tare = scene.chance.normal(
    standard.tubeTareGrams,
    standard.tubeTareStandardDeviationGrams / 2,
  );
  const tube = nextNumber(scene, standard.metal === 'gold' ? 'TG' : 'TS', 5);
  for (let attempt = 1; attempt <= 3; attempt += 1) {
    const weighed = await weighTube(scene, { melt, bench, tube, heap, tare });
    if (weighed !== 'proved') continue;
    const netGrams = heapGrams(heap);
    return { tube, grossGrams: netGrams + tare, netGrams };
  }
  throw new Error(`the count of tube ${tube} was not proved`);
}

/** Weighs a closed tube once; answers what the weighing says. */
export async function weighTube(
  scene: Scene,
  options: { melt: MeltAtWork; bench: Bench; tube: string; heap: Heap; tare: number },
): Promise<string> {
  const { melt, bench, tube, heap, tare } = options;
  const { hand, chance } = scene;
  const recorded = await hand.do({
    by: bench.custodian,
    command: 'weigh-tube',
    input: {
      tube,
      melt: melt.truth.melt,
      pieces: melt.truth.standard.piecesPerTube,
      gross: weigh(balances.tubes, heapGrams(heap) + tare, chance),
      tare: weigh(balances.tubes, tare, chance),
      instrument: balances.tubes.instrument,
    },
    seconds: 50,
  });
  return String(bodyOf(recorded, 'TubeWeighed')['state']);
}

async function packBox(
  scene: Scene,
  options: { standard: DemonstrationStandard; tubes: readonly FilledTube[]; bench: Bench },
): Promise<string> {
  const { standard, tubes, bench } = options;
  const { hand, chance } = scene;
  const box = nextNumber(scene, standard.metal === 'gold' ? 'BG' : 'BS', 4);
  const seal = nextNumber(scene, 'K-', 6);
  const tare = chance.normal(standard.boxTareGrams, standard.boxTareStandardDeviationGrams / 2);
  const inside = tubes.reduce((sum, tube) => sum + tube.grossGrams, 0);
  for (let attempt = 1; attempt <= 4; attempt += 1) {
    const outcome = await hand.ask({
      by: bench.custodian,
      with: bench.second,
      command: 'pack-box',
      input: {
        box,
        tubes: tubes.map(({ tube }) => tube),
        gross: weigh(balances.boxes, inside + tare, chance),
        tare: weigh(balances.boxes, tare, chance),
        seal,
        instrument: balances.boxes.instrument,
      },
      seconds: 180,
    });
    if (outcome.outcome === 'recorded') return box;
    // Now and then a weighing lies beyond three standard uncertainties; then people weigh again.
    const names = outcome.refusals.map(({ refusal }) => refusal);
    if (names.some((name) => name !== 'BoxDiffersFromTubes')) break;
  }
  throw new Error(`box ${box} could not be sealed`);
}

/** Retains pieces of a melt for later trial. */
export async function setAside(
  scene: Scene,
  melt: MeltAtWork,
  options: { pieces: number; bench: Bench },
): Promise<void> {
  const heap = take(melt.loose, options.pieces);
  await scene.hand.do({
    by: options.bench.custodian,
    with: options.bench.second,
    command: 'set-aside-pieces',
    input: {
      melt: melt.truth.melt,
      pieces: heap.length,
      gross: weigh(balances.tubes, heapGrams(heap), scene.chance),
      instrument: balances.tubes.instrument,
    },
    seconds: 120,
  });
}
