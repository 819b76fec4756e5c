import type { DemonstrationStandard } from '../demonstration/cast.ts';
import { bodyOf } from '../demonstration/hand.ts';
import { balances } from '../demonstration/instruments.ts';
import {
  type Heap,
  heapGrams,
  makeBlanks,
  makeMelt,
  type TrueMelt,
  takeAt,
} from '../demonstration/metal.ts';
import { weigh } from '../demonstration/readings.ts';
import { type MeltAtWork, nextNumber } from '../demonstration/state.ts';
import { attempt, type Ground, type PlantSize, unexpected } from './ground.ts';
import { idOf } from './world.ts';

const drumTareGrams = 1450;
const meltsPerConsignment = 2;

/** Pieces that a drum holds by its document. */
const piecesInDrum = ({ piecesPerDrum }: PlantSize, standard: DemonstrationStandard): number =>
  piecesPerDrum[standard.metal];

/** Pieces of one consignment by its document. */
export function consignmentPieces(size: PlantSize, standard: DemonstrationStandard): number {
  return meltsPerConsignment * size.drumsPerMelt * piecesInDrum(size, standard);
}

/** Takes in a consignment of two melts, drawn and ready for the laboratory. */
export async function receive(ground: Ground, standard: DemonstrationStandard): Promise<void> {
  const consignment = nextNumber(ground, 'C-', 4);
  const supplier = ground.chance.one(['fennel', 'osterhof']);
  const melts: MeltAtWork[] = [];
  for (let made = 0; made < meltsPerConsignment; made += 1) {
    melts.push(makeMeltAtWork(ground, { standard, consignment, supplier }));
  }
  await announce(ground, { consignment, supplier, standard, melts });
  ground.melts.push(...melts);
  ground.world.melts.push(...melts);
  for (const melt of melts) {
    for (const [drum, heap] of melt.drums) await takeInDrum(ground, { melt, drum, heap });
  }
  await drawSamples(ground, { consignment, supplier, standard });
}

function makeMeltAtWork(
  ground: Ground,
  from: { standard: DemonstrationStandard; consignment: string; supplier: string },
): MeltAtWork {
  const { standard, consignment, supplier } = from;
  const { ledger, chance } = ground;
  const isGold = standard.metal === 'gold';
  const melt = nextNumber(ground, `${supplier[0]?.toUpperCase()}${isGold ? 'G' : 'S'}-`, 4);
  const isPoor = ledger.happens('melt under its fineness');
  const good = isGold ? 1.6 + 0.4 * chance.uniform() : 0.27 + 0.08 * chance.uniform();
  const marginPerMille = isPoor ? (isGold ? -1.2 : -0.1) : good;
  const truth = makeMelt({ melt, standard, marginPerMille, isThick: false }, chance);
  const isLight = ledger.happens('melt off its weight');
  const drums = new Map<string, Heap>();
  for (let index = 1; index <= ground.size.drumsPerMelt; index += 1) {
    const pieces = piecesInDrum(ground.size, standard);
    const heap = isLight ? lightBlanks(ground, truth, pieces) : makeBlanks(truth, pieces, chance);
    drums.set(`${melt}-D${index}`, heap);
  }
  const seenAt = [`melt/${melt}`, ...[...drums.keys()].map((drum) => `drum/${drum}`)];
  if (isPoor) {
    const words = `melt ${melt} lies ${-marginPerMille} ‰ under its fineness`;
    ledger.plant('melt under its fineness', { words, seenAt: [`melt/${melt}`] });
  }
  if (isLight) ledger.plant('melt off its weight', { words: `melt ${melt} is too light`, seenAt });
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

/** Blanks that no sorter has seen, a good deal below the declared mass. */
function lightBlanks(ground: Ground, { standard }: TrueMelt, pieces: number): Heap {
  const mean = standard.massLeastMilligrams / 1000 - 0.01;
  const deviation = standard.pieceStandardDeviationMilligrams / 1000;
  return Array.from({ length: pieces }, () => ground.chance.normal(mean, deviation));
}

async function announce(
  ground: Ground,
  delivery: {
    consignment: string;
    supplier: string;
    standard: DemonstrationStandard;
    melts: readonly MeltAtWork[];
  },
): Promise<void> {
  const { consignment, supplier, standard, melts } = delivery;
  const drums = melts.flatMap((melt) =>
    [...melt.drums].map(([drum, heap]) => {
      const pieces = heap.length;
      const gross = { text: (heapGrams(heap) + drumTareGrams).toFixed(1), unit: 'g', typed: true };
      const tare = { text: drumTareGrams.toFixed(1), unit: 'g', typed: true };
      makeShort(ground, { melt, drum, heap });
      return { drum, melt: idOf(melt), pieces, gross, tare, seal: `S-${drum}` };
    }),
  );
  await ground.hand.do({
    by: 'bettina',
    command: 'announce-consignment',
    input: {
      consignment,
      supplier,
      document: `Delivery note ${consignment}`,
      pieceStandard: standard.pieceStandard,
      melts: melts.map(({ truth }) => ({
        melt: truth.melt,
        supplierFinenessPerMille: Number((truth.finenessPerMille + 0.02).toFixed(3)),
      })),
      drums,
    },
    seconds: 300,
  });
}

/** Pieces that the document names and the drum does not hold. */
function makeShort(ground: Ground, of: { melt: MeltAtWork; drum: string; heap: Heap }): void {
  if (!ground.ledger.happens('drum short')) return;
  const { melt, drum, heap } = of;
  const missing = ground.chance.whole(1, 3);
  heap.splice(0, missing);
  ground.ledger.plant('drum short', {
    words: `drum ${drum} holds ${missing} too few`,
    seenAt: [`drum/${drum}`],
    places: ['receiving'],
    pieceStandard: melt.truth.standard.pieceStandard,
  });
}

async function takeInDrum(
  ground: Ground,
  of: { melt: MeltAtWork; drum: string; heap: Heap },
): Promise<void> {
  const { drum, heap } = of;
  const state = await weighDrum(ground, { drum, heap });
  ground.world.sealedDrums.set(drum, heap.length);
  if (state !== 'needs tally') {
    // A short drum that its weight proves is counted by its label from now on.
    const documented = piecesInDrum(ground.size, of.melt.truth.standard);
    ground.world.sealedDrums.set(drum, documented);
    return;
  }
  ground.ledger.alarm(`drum/${drum}`, 'count by weight', `drum ${drum} had to be counted by hand`);
  await ground.hand.do({
    by: 'bettina',
    with: 'wren',
    command: 'tally-drum',
    input: { drum, piecesFound: heap.length },
    seconds: 900,
  });
}

/** Weighs a drum until the count by weight has decided. */
async function weighDrum(ground: Ground, of: { drum: string; heap: Heap }): Promise<string> {
  const { drum, heap } = of;
  const thing = `drum/${drum}`;
  for (let weighing = 1; weighing <= 6; weighing += 1) {
    const load = { grams: heapGrams(heap), tareGrams: drumTareGrams, thing };
    const readings = ground.balances.grossAndTare('drums', load);
    const instrument = balances.drums.instrument;
    const input = { drum, sealFound: `S-${drum}`, ...readings, instrument };
    const act = { by: 'bettina', command: 'weigh-drum', input, seconds: 150 } as const;
    const tried = await attempt(ground, act);
    if (tried.recorded) {
      const state = String(bodyOf(tried.recorded, 'DrumWeighed')['state']);
      if (state !== 'weigh again') return state;
      ground.ledger.found(thing, 'count by weight', { family: 'instruments' });
    } else if (
      tried.refusals.some((name) => name !== 'MassImplausible' && name !== 'TareAboveGross')
    ) {
      throw unexpected(act, tried);
    } else ground.ledger.found(thing, 'rule that refuses', { family: 'instruments' });
  }
  throw new Error(`drum ${drum} was never decided`);
}

async function drawSamples(
  ground: Ground,
  of: { consignment: string; supplier: string; standard: DemonstrationStandard },
): Promise<void> {
  const orders = await orderSamples(ground, of);
  for (const order of orders) {
    const melt = ground.melts.find((one) => idOf(one) === order.melt);
    if (!melt) throw new Error(`no melt ${order.melt}`);
    melt.assayBlanks = order.blanks.filter((item) => item.forAssay).map((item) => item.blank);
    for (const [drum, heap] of melt.drums) {
      const picks = order.blanks.filter((blank) => blank.drum === drum);
      // The last pieces of a short drum are not there; the inspector takes the last that are.
      const positions = picks.map(({ position }, at) => Math.min(position, heap.length - at));
      const taken = takeAt(heap, [...new Set(positions)]);
      while (taken.length < picks.length) taken.push(...heap.splice(0, 1));
      for (const [index, { blank }] of picks.entries()) melt.drawn.set(blank, taken[index] ?? 0);
      const label = ground.world.sealedDrums.get(drum) ?? heap.length;
      ground.world.sealedDrums.set(drum, label - picks.length);
    }
    const drawn = [...melt.drawn.values()];
    await ground.hand.do({
      by: 'wren',
      command: 'record-draw',
      input: {
        melt: order.melt,
        gross: weigh(balances.blanks, heapGrams(drawn), ground.chance),
        instrument: balances.blanks.instrument,
      },
      seconds: 900,
    });
    ground.world.laboratory.set(order.melt, drawn);
  }
}

interface Order {
  readonly melt: string;
  readonly blanks: readonly {
    readonly blank: string;
    readonly drum: string;
    readonly position: number;
    readonly forAssay: boolean;
  }[];
}

/** Orders the samples; where inspection was discontinued, the chief assayer takes it up again first. */
async function orderSamples(
  ground: Ground,
  of: { consignment: string; supplier: string; standard: DemonstrationStandard },
): Promise<readonly Order[]> {
  const input = { consignment: of.consignment };
  const act = { by: 'wren', command: 'order-samples', input, seconds: 120 } as const;
  let tried = await attempt(ground, act);
  if (tried.refusals.includes('InspectionDiscontinued')) {
    const { supplier, standard } = of;
    const reason = 'The supplier has mended the sorter, and an inspector has seen it.';
    await ground.hand.do({
      by: 'orla',
      command: 'resume-inspection',
      input: { supplier, pieceStandard: standard.pieceStandard, reason },
    });
    tried = await attempt(ground, act);
  }
  if (!tried.recorded) throw unexpected(act, tried);
  return bodyOf(tried.recorded, 'SamplesOrdered')['melts'] as unknown as readonly Order[];
}
