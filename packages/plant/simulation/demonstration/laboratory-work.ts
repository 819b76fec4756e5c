import type { Chance } from '../chance.ts';
import { balances } from './instruments.ts';
import { heapGrams } from './metal.ts';
import { measure, weigh, weighMilligrams } from './readings.ts';
import { type MeltAtWork, nextNumber, type Scene } from './state.ts';

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
  await hand.do({
    by: 'tamsin',
    command: 'cut-blanks',
    input: { melt, blanks: plan.assayBlanks },
    seconds: 600,
  });
  await returnOthers(scene, plan);
  if (plan.melt.truth.standard.metal === 'gold') await cupel(scene, plan);
  else await dissolve(scene, plan);
  await hand.do({ by: 'tamsin', command: 'sign-result', input: { melt }, seconds: 300 });
  await hand.do({ by: 'idris', command: 'check-result', input: { melt }, seconds: 900 });
}

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

/** Blanks that are not cut go back to their melt at receiving. */
async function returnOthers(scene: Scene, plan: TrialPlan): Promise<void> {
  const { melt, assayBlanks } = plan;
  const others = [...melt.drawn.keys()].filter((blank) => !assayBlanks.includes(blank));
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
}

async function cupel(scene: Scene, plan: TrialPlan): Promise<void> {
  const { hand, chance } = scene;
  const { melt, finenessPerMille } = plan.melt.truth;
  // The cornets keep a little silver: a surcharge of some tenths of a per mille.
  const surcharge = chance.normal(0.0005, 0.0001);
  const cornet = (goldMilligrams: number) =>
    weighMilligrams(goldMilligrams * (1 + surcharge) + chance.normal(0, 0.012), chance);
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
    },
    seconds: 2400,
  });
}

/** Elements that are sought in silver, each with its share of what is not silver. */
const shares = [
  ['Cu', 0.52, 0.5],
  ['Pb', 0.18, 0.4],
  ['Bi', 0.12, 0.5],
  ['Au', 0.08, 0.3],
  ['Fe', 0.06, 0.2],
  ['Zn', 0.04, 0.2],
  ['Pd', 0, 0.3],
  ['Ni', 0, 0.2],
  ['Cd', 0, 0.2],
] as const;

function impuritiesOf(finenessPerMille: number, chance: Chance) {
  const total = (1000 - finenessPerMille) * 1000;
  return shares.map(([element, share, detectionLimit]) => {
    const trueContent = total * share;
    const content = Math.max(0, trueContent * (1 + chance.normal(0, 0.006)));
    const isFound = content > detectionLimit;
    return {
      element,
      contentMilligramsPerKilogram: isFound ? Number(content.toFixed(2)) : null,
      standardUncertaintyMilligramsPerKilogram: Number(
        Math.max(0.05, trueContent * 0.008).toFixed(3),
      ),
      detectionLimitMilligramsPerKilogram: detectionLimit,
    };
  });
}

async function dissolve(scene: Scene, plan: TrialPlan): Promise<void> {
  const { melt, finenessPerMille } = plan.melt.truth;
  await scene.hand.do({
    by: 'tamsin',
    command: 'record-difference',
    input: {
      assayRun: nextNumber(scene, 'DI-', 4),
      melt,
      policy: 'limit',
      solutions: plan.assayBlanks.map((blank, index) => ({
        label: `B${index + 1}`,
        blank,
        impurities: impuritiesOf(finenessPerMille, scene.chance),
      })),
      instrument: 'ICP-1',
    },
    seconds: 1500,
  });
}
