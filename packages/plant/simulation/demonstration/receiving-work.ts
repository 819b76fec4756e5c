import type { DemonstrationStandard } from './cast.ts';
import { attachCertificate } from './document-work.ts';
import { bodyOf } from './hand.ts';
import { balances } from './instruments.ts';
import { type Heap, heapGrams, makeBlanks, makeMelt, takeAt } from './metal.ts';
import { weigh } from './readings.ts';
import { type MeltAtWork, nextNumber, type Scene } from './state.ts';

/** What is special about a melt of a consignment. */
interface MeltPlan {
  readonly marginPerMille: number;
  /** How far the supplier's own value lies from the truth. */
  readonly supplierErrorPerMille: number;
  /** True when some of its blanks are too thick. */
  readonly isThick?: boolean;
  /** Pieces that its last drum lacks, as the supplier does not know. */
  readonly piecesShort?: number;
}

/** A delivery as the supplier plans it. */
export interface ConsignmentPlan {
  readonly supplier: string;
  readonly standard: DemonstrationStandard;
  readonly drumsPerMelt: number;
  readonly piecesPerDrum: number;
  readonly melts: readonly MeltPlan[];
  /** So many of its melts stand in the material certificate; all where nothing is stated. */
  readonly meltsCertified?: number;
  /** What the number of the consignment begins with. */
  readonly series?: string;
}

const drumTareGrams = 1450;

/** Takes in a consignment: packing list, drums weighed, samples ordered and drawn. */
export async function receiveConsignment(
  scene: Scene,
  plan: ConsignmentPlan,
): Promise<readonly MeltAtWork[]> {
  const consignment = nextNumber(scene, plan.series ?? 'C-', 4);
  const melts = plan.melts.map((melt) => makeMeltAtWork(scene, { plan, melt, consignment }));
  await announce(scene, { plan, consignment, melts });
  await attachCertificate(scene, { plan, consignment, melts });
  for (const [index, melt] of melts.entries()) lose(melt, plan.melts[index]?.piecesShort ?? 0);
  for (const melt of melts) {
    for (const [drum, heap] of melt.drums) await weighDrum(scene, drum, heap);
  }
  await drawSamples(scene, consignment, melts);
  scene.melts.push(...melts);
  return melts;
}

function makeMeltAtWork(
  scene: Scene,
  options: { plan: ConsignmentPlan; melt: MeltPlan; consignment: string },
): MeltAtWork {
  const { plan, consignment } = options;
  const letter = plan.standard.metal === 'gold' ? 'G' : 'S';
  const melt = nextNumber(scene, `${plan.supplier[0]?.toUpperCase()}${letter}-`, 3);
  const { marginPerMille, isThick = false } = options.melt;
  const truth = makeMelt({ melt, standard: plan.standard, marginPerMille, isThick }, scene.chance);
  const drums = new Map<string, Heap>();
  for (let index = 1; index <= plan.drumsPerMelt; index += 1) {
    drums.set(`${melt}-D${index}`, makeBlanks(truth, plan.piecesPerDrum, scene.chance));
  }
  return {
    truth,
    consignment,
    drums,
    drawn: new Map(),
    loose: [],
    assayBlanks: [],
    examined: false,
    ruling: 'none',
  };
}

/** The last drum of a melt holds fewer pieces than its document says. */
function lose(melt: MeltAtWork, pieces: number): void {
  const heap = [...melt.drums.values()].at(-1);
  heap?.splice(heap.length - pieces, pieces);
}

async function announce(
  scene: Scene,
  options: { plan: ConsignmentPlan; consignment: string; melts: readonly MeltAtWork[] },
): Promise<void> {
  const { plan, consignment, melts } = options;
  const drums = melts.flatMap((melt) =>
    [...melt.drums].map(([drum, heap]) => ({
      drum,
      melt: melt.truth.melt,
      pieces: heap.length,
      gross: { text: (heapGrams(heap) + drumTareGrams).toFixed(1), unit: 'g', typed: true },
      tare: { text: drumTareGrams.toFixed(1), unit: 'g', typed: true },
      seal: `S-${drum}`,
    })),
  );
  await scene.hand.do({
    by: 'bettina',
    command: 'announce-consignment',
    input: {
      consignment,
      supplier: plan.supplier,
      document: `Delivery note ${consignment}`,
      pieceStandard: plan.standard.pieceStandard,
      melts: melts.map(({ truth }, index) => ({
        melt: truth.melt,
        supplierFinenessPerMille: Number(
          (truth.finenessPerMille + (plan.melts[index]?.supplierErrorPerMille ?? 0)).toFixed(3),
        ),
      })),
      drums,
    },
    seconds: 300,
  });
}

/** Weighs a drum, again where one weighing is doubtful, and counts by hand where weight proves nothing. */
async function weighDrum(scene: Scene, drum: string, heap: Heap): Promise<void> {
  const { hand, chance } = scene;
  let state = 'weigh again';
  while (state === 'weigh again') {
    const weighed = await hand.do({
      by: 'bettina',
      command: 'weigh-drum',
      input: {
        drum,
        sealFound: `S-${drum}`,
        gross: weigh(balances.drums, heapGrams(heap) + drumTareGrams, chance),
        tare: weigh(balances.drums, drumTareGrams, chance),
        instrument: balances.drums.instrument,
      },
      seconds: 150,
    });
    state = String(bodyOf(weighed, 'DrumWeighed')['state']);
  }
  if (state !== 'needs tally') return;
  await hand.do({
    by: 'bettina',
    with: 'wren',
    command: 'tally-drum',
    input: { drum, piecesFound: heap.length },
    seconds: 900,
  });
}

async function drawSamples(
  scene: Scene,
  consignment: string,
  melts: readonly MeltAtWork[],
): Promise<void> {
  const { hand, chance } = scene;
  const ordered = await hand.do({
    by: 'wren',
    command: 'order-samples',
    input: { consignment },
    seconds: 120,
  });
  const orders = bodyOf(ordered, 'SamplesOrdered')['melts'] as unknown as {
    melt: string;
    blanks: { blank: string; drum: string; position: number; forAssay: boolean }[];
  }[];
  for (const order of orders) {
    const melt = melts.find(({ truth }) => truth.melt === order.melt);
    if (!melt) throw new Error(`no melt ${order.melt}`);
    melt.assayBlanks = order.blanks.filter((item) => item.forAssay).map((item) => item.blank);
    for (const [drum, heap] of melt.drums) {
      const picks = order.blanks.filter((blank) => blank.drum === drum);
      const taken = takeAt(
        heap,
        picks.map(({ position }) => position),
      );
      for (const [index, { blank }] of picks.entries()) melt.drawn.set(blank, taken[index] ?? 0);
    }
    await hand.do({
      by: 'wren',
      command: 'record-draw',
      input: {
        melt: order.melt,
        gross: weigh(balances.blanks, heapGrams([...melt.drawn.values()]), chance),
        instrument: balances.blanks.instrument,
      },
      seconds: 900,
    });
  }
}
