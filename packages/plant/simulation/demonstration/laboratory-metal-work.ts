import { balances } from './instruments.ts';
import { heapGrams } from './metal.ts';
import { sealedCuttingsGrams } from './portions-work.ts';
import { weigh } from './readings.ts';
import type { MeltAtWork, Scene } from './state.ts';

/** What a solution of silver takes of a blank, and what a portion of gold does, in grams. */
const dissolvedGrams = 0.5;
const cupelledGrams = 0.25;

interface MetalOut {
  readonly form: string;
  readonly to: 'scrap' | 'archive' | 'ceased';
  readonly grams: number;
  readonly finenessPerMille: number | null;
  /** What an estimate rests on; nothing where the metal is weighed. */
  readonly basis: string | null;
}

async function takeOut(scene: Scene, melt: string, out: MetalOut): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  const { form, to, grams, finenessPerMille, basis } = out;
  await scene.hand.do({
    by: 'tamsin',
    with: 'bettina',
    command: 'take-out-metal',
    input: {
      melt,
      form,
      to,
      gross:
        basis === null
          ? weigh(balances.blanks, grams, equipment.chance)
          : { text: grams.toFixed(3), unit: 'g', typed: true },
      finenessPerMille,
      estimated: basis !== null,
      basis,
      instrument: basis === null ? balances.blanks.instrument : null,
    },
    seconds: 20,
  });
  equipment.takenOutGrams.set(melt, (equipment.takenOutGrams.get(melt) ?? 0) + grams);
}

/** What an assay leaves of its portions: solutions of silver, or cornets and what the cupel took. */
export async function takeOutAssayed(scene: Scene, melt: MeltAtWork): Promise<void> {
  const { melt: id, standard, finenessPerMille } = melt.truth;
  const blanks = melt.assayBlanks.length;
  if (standard.metal === 'silver') {
    const runs = scene.equipment?.runs.filter((run) => run.melt === id).length ?? 0;
    const portions = runs * blanks;
    await takeOut(scene, id, {
      form: 'silver in solution',
      to: 'ceased',
      grams: portions * dissolvedGrams,
      finenessPerMille: null,
      basis: `${portions} portions of ${dissolvedGrams} g, as the worksheet says; nothing comes back from the tank.`,
    });
    return;
  }
  const cupelled = blanks * cupelledGrams;
  const gold = (cupelled * finenessPerMille) / 1000;
  await takeOut(scene, id, {
    form: 'cornets',
    to: 'archive',
    grams: gold,
    finenessPerMille: 999.5,
    basis: null,
  });
  await takeOut(scene, id, {
    form: 'base metal lost in the furnace',
    to: 'ceased',
    grams: cupelled - gold,
    finenessPerMille: 0,
    basis: 'Portions less cornets, as the worksheet says.',
  });
}

/** True grams of a melt in the laboratory, sealed portions among them. */
function gramsOfMelt(scene: Scene, melt: MeltAtWork): number {
  const out = scene.equipment?.takenOutGrams.get(melt.truth.melt) ?? 0;
  return heapGrams([...melt.drawn.values()]) - out;
}

/** True grams of a kind of piece in the laboratory, sealed portions and cuttings among them. */
export function laboratoryGrams(scene: Scene, pieceStandard: string): number {
  return scene.melts
    .filter(({ truth }) => truth.standard.pieceStandard === pieceStandard)
    .reduce((sum, melt) => sum + gramsOfMelt(scene, melt), 0);
}

/** Takes the cuttings of every released melt to the scrap, but for what is sealed. */
export async function clearCuttings(scene: Scene): Promise<void> {
  for (const melt of scene.melts.filter(({ ruling }) => ruling === 'release')) {
    const { melt: id } = melt.truth;
    const cut = heapGrams(melt.assayBlanks.map((blank) => melt.drawn.get(blank) ?? 0));
    const out = scene.equipment?.takenOutGrams.get(id) ?? 0;
    const grams = cut - out - sealedCuttingsGrams(scene, id);
    if (grams < 1) continue;
    await takeOut(scene, id, {
      form: 'cuttings',
      to: 'scrap',
      grams,
      finenessPerMille: null,
      basis: null,
    });
  }
}
