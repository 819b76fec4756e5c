import type { Reading } from '../../src/journal/reading.ts';
import { balances } from './instruments.ts';
import { heapGrams } from './metal.ts';
import { sealedCuttingsGrams } from './portions-work.ts';
import { weigh } from './readings.ts';
import type { MeltAtWork, Scene } from './state.ts';

/** What a solution of silver takes of a blank, and what portions do that are titrated or cupelled, in grams. */
const dissolvedGrams = 0.5;
export const titratedGrams = 0.325;
const cupelledGrams = 0.25;
/** What is lost around the muffle of the cuttings of a melt, in grams. */
const sweptGrams = 0.002;

/** Portions are weighed before they are dissolved or cupelled; what becomes of them needs no second weighing. */
const assayBalance = 'BAL-L1';

interface MetalOut {
  readonly form: string;
  readonly to: 'scrap' | 'archive' | 'ceased';
  readonly grams: number;
  readonly finenessPerMille: number | null;
  /** The balance that gave the mass, or what an estimate rests on. */
  readonly from: { readonly balance: string } | { readonly estimate: string };
}

/** A mass as it is written: as a balance showed it, as portions add up to, or as it was estimated. */
function massOf({ grams, from }: MetalOut, { chance }: NonNullable<Scene['equipment']>): Reading {
  if ('balance' in from && from.balance === balances.blanks.instrument) {
    return weigh(balances.blanks, grams, chance);
  }
  return { text: grams.toFixed('balance' in from ? 5 : 3), unit: 'g', typed: true };
}

async function takeOut(scene: Scene, melt: string, out: MetalOut): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  const { form, to, grams, finenessPerMille, from } = out;
  await scene.hand.do({
    by: 'tamsin',
    with: 'bettina',
    command: 'take-out-metal',
    input: {
      melt,
      form,
      to,
      gross: massOf(out, equipment),
      finenessPerMille,
      estimated: 'estimate' in from,
      basis: 'estimate' in from ? from.estimate : null,
      instrument: 'balance' in from ? from.balance : null,
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
      grams: portions * (standard.assayMethod === 'titration' ? titratedGrams : dissolvedGrams),
      finenessPerMille: null,
      from: { balance: assayBalance },
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
    from: { balance: balances.blanks.instrument },
  });
  await takeOut(scene, id, {
    form: 'base metal lost in the furnace',
    to: 'ceased',
    grams: cupelled - gold,
    finenessPerMille: 0,
    from: { balance: assayBalance },
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
    const isCupelled = melt.truth.standard.metal === 'gold';
    if (isCupelled) {
      await takeOut(scene, id, {
        form: 'cupels and sweeps',
        to: 'ceased',
        grams: sweptGrams,
        finenessPerMille: null,
        from: { estimate: 'Dust of the cuttings around the shears and the muffle, by eye.' },
      });
    }
    await takeOut(scene, id, {
      form: 'cuttings',
      to: 'scrap',
      grams: isCupelled ? grams - sweptGrams : grams,
      finenessPerMille: null,
      from: { balance: balances.blanks.instrument },
    });
  }
}
