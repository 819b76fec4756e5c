import type { Chance } from '../chance.ts';
import { firstEntryOf } from './equipment.ts';
import { examineMetal } from './examination-work.ts';
import { bodyOf } from './hand.ts';
import { impuritiesOf } from './impurities.ts';
import { balances } from './instruments.ts';
import { takeOutAssayed } from './laboratory-metal-work.ts';
import { heapGrams } from './metal.ts';
import { keptBlanks, openPlantPortion, sealCuttings, sealSample } from './portions-work.ts';
import { measure, weigh, weighMilligrams } from './readings.ts';
import { goldControls, silverControls } from './run-controls.ts';
import { screenSurface } from './screening-work.ts';
import { type MeltAtWork, nextNumber, type Scene } from './state.ts';
import { titrate } from './titration-work.ts';

interface TrialPlan {
  readonly melt: MeltAtWork;
  readonly assayBlanks: readonly string[];
}

/** Examines a melt up to a checked result: sizes, cutting, determinations, signature, check. */
export async function examineMelt(scene: Scene, examined: MeltAtWork): Promise<void> {
  const { hand } = scene;
  const plan: TrialPlan = { melt: examined, assayBlanks: examined.assayBlanks };
  const { melt } = examined.truth;
  examined.examined = true;
  await measureBlanks(scene, examined);
  await screenSurface(scene, examined);
  await sealSample(scene, examined);
  await openPlantPortion(scene, examined);
  await hand.do({
    by: 'tamsin',
    command: 'cut-blanks',
    input: { melt, blanks: plan.assayBlanks },
    seconds: 600,
  });
  await examineMetal(scene, examined);
  await returnOthers(scene, plan);
  await sealCuttings(scene, examined);
  await assayByMethod(scene, plan);
  await takeOutAssayed(scene, examined);
  await hand.do({ by: 'tamsin', command: 'sign-result', input: { melt }, seconds: 300 });
  await hand.do({ by: 'idris', command: 'check-result', input: { melt }, seconds: 900 });
}

const assayByMethod = (scene: Scene, plan: TrialPlan): Promise<void> => {
  switch (plan.melt.truth.standard.assayMethod) {
    case 'cupellation':
      return cupel(scene, plan);
    case 'titration':
      return titrate(scene, plan.melt);
    case 'fineness-by-difference':
      return dissolve(scene, plan);
  }
};

async function measureBlanks(scene: Scene, melt: MeltAtWork): Promise<void> {
  const { standard } = melt.truth;
  const middle = (least: number, greatest: number): number => (least + greatest) / 2;
  const diameter = middle(standard.diameterLeastMillimetres, standard.diameterGreatestMillimetres);
  const thickness = middle(
    standard.thicknessLeastMillimetres,
    standard.thicknessGreatestMillimetres,
  );
  const excess = (index: number): number => (melt.truth.isThick && index % 5 === 0 ? 0.3 : 0);
  const measurements = [...melt.drawn].map(([blank, grams], index) => ({
    blank,
    mass: weigh(balances.blanks, grams, scene.chance),
    diameter: measure(diameter + scene.chance.normal(0, 0.008), scene.chance),
    thickness: measure(thickness + excess(index) + scene.chance.normal(0, 0.02), scene.chance),
  }));
  await scene.hand.do({
    by: 'wren',
    command: 'measure-blanks',
    input: {
      melt: melt.truth.melt,
      balance: balances.blanks.instrument,
      micrometer: 'MIC-1',
      measurements,
    },
    seconds: 900,
  });
}

/** Blanks that are neither cut nor kept in a portion go back to their melt at receiving. */
async function returnOthers(scene: Scene, plan: TrialPlan): Promise<void> {
  const { melt, assayBlanks } = plan;
  const kept = new Set([...assayBlanks, ...keptBlanks(scene, melt.truth.melt)]);
  const others = [...melt.drawn.keys()].filter((blank) => !kept.has(blank));
  if (others.length === 0) return;
  const heap = others.map((blank) => melt.drawn.get(blank) ?? 0);
  await scene.hand.do({
    by: 'wren',
    with: 'bettina',
    command: 'return-blanks',
    input: {
      melt: melt.truth.melt,
      blanks: others,
      gross: weigh(balances.blanks, heapGrams(heap), scene.chance),
      instrument: balances.blanks.instrument,
    },
    seconds: 240,
  });
  const [firstDrum] = melt.drums.values();
  firstDrum?.push(...heap);
  // What the laboratory still holds is asked of the blanks that are left there.
  if (scene.equipment) for (const blank of others) melt.drawn.delete(blank);
}

async function cupel(scene: Scene, plan: TrialPlan): Promise<void> {
  const { hand, chance } = scene;
  const { melt, finenessPerMille } = plan.melt.truth;
  // The cornets keep a little silver: a surcharge of some tenths of a per mille.
  const surcharge = chance.normal(0.0005, 0.0001);
  const cornet = (goldMilligrams: number, of: Chance = chance) =>
    weighMilligrams(goldMilligrams * (1 + surcharge) + of.normal(0, 0.012), of);
  const proofs = ['P1', 'P2'].map((label) => {
    const gold = 187.5 + chance.normal(0, 0.3);
    return { label, goldTaken: weighMilligrams(gold, chance), cornet: cornet(gold) };
  });
  const samples = plan.assayBlanks.map((blank, index) => {
    const portion = 250 + chance.normal(0, 0.4);
    return {
      label: `A${index + 1}`,
      blank,
      sample: weighMilligrams(portion, chance),
      cornet: cornet((portion * finenessPerMille) / 1000),
    };
  });
  await hand.do({
    by: 'tamsin',
    command: 'record-cupellation',
    input: {
      assayRun: nextNumber(scene, 'CU-', 4),
      melt,
      correction: 'absolute',
      proofs,
      samples,
      proofGoldStandardUncertaintyPerMille: 0.02,
      instrument: 'BAL-L1',
      extractionConfirmed: true,
      ...(scene.equipment ? goldControls(scene.equipment, cornet) : {}),
    },
    seconds: 2400,
  });
}

/** The melt whose first run is void, since its reference material fails. */
export const spoiledMelt = 'OS-001';

/** So often a run whose controls fail is repeated before people stop and look for the cause. */
const mostRepeats = 3;

/** Dissolves and measures until the controls of a run pass. */
async function dissolve(scene: Scene, plan: TrialPlan): Promise<void> {
  const { equipment } = scene;
  const isSpoiled = equipment !== undefined && plan.melt.truth.melt === spoiledMelt;
  if (isSpoiled) await recordSolutions(scene, { ...plan, chance: equipment.chance, isSpoiled });
  for (let repeat = 0; repeat <= mostRepeats; repeat += 1) {
    // A repeated run draws on the chance of the controls that made it needed.
    const chance = repeat === 0 ? scene.chance : (equipment?.chance ?? scene.chance);
    const state = await recordSolutions(scene, { ...plan, chance, isSpoiled: false });
    if (state === 'valid') return;
  }
  throw new Error(`no run of melt ${plan.melt.truth.melt} passed its controls`);
}

/** Records one run of solutions; answers whether it counts. */
async function recordSolutions(
  scene: Scene,
  plan: TrialPlan & { readonly chance: Chance; readonly isSpoiled: boolean },
): Promise<string> {
  const { melt, finenessPerMille } = plan.melt.truth;
  const { equipment } = scene;
  const controls = equipment ? silverControls(equipment, plan.isSpoiled) : undefined;
  const recorded = await scene.hand.do({
    by: 'tamsin',
    command: 'record-difference',
    input: {
      assayRun: nextNumber(scene, 'DI-', 4),
      melt,
      policy: 'limit',
      solutions: plan.assayBlanks.map((blank, index) => ({
        label: `B${index + 1}`,
        blank,
        impurities: impuritiesOf(finenessPerMille, plan.chance),
      })),
      instrument: 'ICP-1',
      ...controls,
    },
    seconds: 1500,
  });
  const reagentLots = controls?.reagentLots ?? [];
  equipment?.runs.push({ melt, entry: firstEntryOf(recorded), reagentLots });
  return String(bodyOf(recorded, 'DifferenceRecorded')['state']);
}
