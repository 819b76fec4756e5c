import { balances } from '../demonstration/instruments.ts';
import { heapGrams } from '../demonstration/metal.ts';
import { nextNumber } from '../demonstration/state.ts';
import { type Act, type Ground, someone, unexpected } from './ground.ts';
import { recordMove } from './record-move.ts';
import { type Bench, openTube, weighTube } from './tube-acts.ts';
import { standardOf, type TrueBox, type TrueTube } from './world.ts';

/** Weighings of one box before it is opened again. */
const mostWeighings = 3;

/** Packs a box when enough proved tubes wait. */
export async function packWaiting(ground: Ground, bench: Bench, standard: string): Promise<void> {
  const waiting = ground.openTubes.get(standard) ?? [];
  const [first] = waiting;
  const perBox = first && ground.world.tubes.get(first.tube)?.melt.truth.standard.tubesPerBox;
  if (!perBox || waiting.length < perBox) return;
  const names = waiting.splice(0, perBox).map(({ tube }) => tube);
  const tubes = names.flatMap((name) => ground.world.tubes.get(name) ?? []);
  await packBox(ground, bench, tubes);
}

async function packBox(ground: Ground, bench: Bench, tubes: readonly TrueTube[]): Promise<void> {
  const [first] = tubes;
  if (!first) return;
  const { standard } = first.melt.truth;
  const box: TrueBox = {
    box: nextNumber(ground, standard.metal === 'gold' ? 'BG' : 'BS', 5),
    pieceStandard: standard.pieceStandard,
    tubes,
    seal: nextNumber(ground, 'K-', 7),
    tareGrams: ground.chance.normal(
      standard.boxTareGrams,
      standard.boxTareStandardDeviationGrams / 2,
    ),
    label: tubes.reduce((pieces, { label }) => pieces + label, 0),
    isWritten: true,
    isSigned: false,
  };
  if (ground.ledger.happens('box not written')) {
    carryAway(ground, { ...box, isWritten: false });
    return;
  }
  const outcome = await seal(ground, bench, box);
  if (outcome === 'sealed') carryAway(ground, box);
  if (outcome === 'differs') await unpack(ground, bench, tubes);
}

/** The act that seals a box. */
function sealAct(ground: Ground, box: TrueBox, by: string): Act {
  const grams = box.tubes.reduce(
    (sum, { heap, tareGrams }) => sum + heapGrams(heap) + tareGrams,
    0,
  );
  const load = { grams, tareGrams: box.tareGrams, thing: `box/${box.box}` };
  return {
    by: someone(by),
    with: 'milo',
    command: 'pack-box',
    input: {
      box: box.box,
      tubes: box.tubes.map(({ tube }) => tube),
      ...ground.balances.grossAndTare('boxes', load),
      seal: box.seal,
      instrument: balances.boxes.instrument,
    },
    seconds: 180,
  };
}

/** Weighs and seals a box; or says that it differs from its tubes, or that the book has no such pieces. */
async function seal(
  ground: Ground,
  bench: Bench,
  box: TrueBox,
): Promise<'sealed' | 'differs' | 'not booked'> {
  for (let weighing = 1; weighing <= mostWeighings; weighing += 1) {
    const act = sealAct(ground, box, bench.custodian);
    const places = ['put-up', 'strong-room'] as const;
    const { label: said, pieceStandard } = box;
    const tried = await recordMove(ground, act, { said, moved: said, places, pieceStandard });
    if (tried.recorded) return 'sealed';
    if (tried.refusals.includes('NotEnoughPieces')) {
      const words = `box ${box.box} cannot be packed: a difference was signed away from a melt whose pieces lie in its tubes`;
      ground.obstacles.push({ shift: ground.ledger.shift, words });
      return 'not booked';
    }
    const isWeight = tried.refusals.every(
      (name) => name === 'BoxDiffersFromTubes' || name === 'TareNotBelowGross',
    );
    if (!isWeight) throw unexpected(act, tried);
    ground.ledger.found(`box/${box.box}`, 'box against tubes');
  }
  return 'differs';
}

/** A box goes to the strong room; a piece may leave it on the way. */
function carryAway(ground: Ground, box: TrueBox): void {
  const { ledger, world } = ground;
  for (const { tube } of box.tubes) world.tubes.delete(tube);
  world.boxes.set(box.box, box);
  const { box: name, pieceStandard } = box;
  if (box.isWritten) ground.boxesPacked.push({ box: name, pieceStandard });
  else {
    ledger.plant('box not written', {
      words: `box ${name} of ${box.label} pieces lies in the strong room and no entry says so`,
      seenAt: ['unbooked'],
      places: ['put-up', 'strong-room'],
      pieceStandard,
    });
  }
  if (!box.isWritten || !ledger.happens('piece stolen from a sealed box')) return;
  box.tubes[0]?.heap.pop();
  world.stolen += 1;
  ledger.plant('piece stolen from a sealed box', {
    words: `a piece stolen from the sealed box ${name}`,
    seenAt: [`box/${name}`],
    places: ['strong-room'],
    pieceStandard,
  });
}

/** The box differs from its tubes: it is opened and every tube is weighed once more, on a balance that was checked. */
async function unpack(ground: Ground, bench: Bench, tubes: readonly TrueTube[]): Promise<void> {
  const { ledger, balances: scales } = ground;
  const drifting = (['tubes', 'boxes'] as const).filter((name) => scales.isDrifting(name));
  for (const name of drifting) {
    scales.adjust(name);
    ledger.found(`balance/${name}`, 'box against tubes');
  }
  let hasCause = drifting.length > 0;
  for (const tube of tubes) {
    const state = await weighUntilDecided(ground, bench, tube);
    if (state === 'proved') {
      ground.openTubes.get(standardOf(tube.melt))?.push({ tube: tube.tube, grossGrams: 0 });
      // A reading that was wrong before the count was proved is replaced now.
      hasCause = ledger.found(`tube/${tube.tube}`, 'box against tubes').length > 0 || hasCause;
      continue;
    }
    hasCause = true;
    await openDisturbed(ground, bench, tube);
  }
  if (hasCause) return;
  const words = `a box differed from its tubes ${mostWeighings} times, and its tubes are right`;
  ledger.falseAlarms.push({ shift: ledger.shift, control: 'box against tubes', words });
}

async function weighUntilDecided(ground: Ground, bench: Bench, tube: TrueTube): Promise<string> {
  for (let weighing = 1; weighing <= 4; weighing += 1) {
    const state = await weighTube(ground, bench, tube);
    if (state !== 'weigh again') return state;
  }
  return 'stopped';
}

/** A tube is no longer what its weighing proved: it is opened, and what was wrong is known, not mended. */
async function openDisturbed(ground: Ground, bench: Bench, tube: TrueTube): Promise<void> {
  const isWhole = tube.heap.length === tube.label;
  const thing = `tube/${tube.tube}`;
  const shown = ground.ledger.notice(thing, 'box against tubes');
  await openTube(ground, bench, tube);
  for (const fault of shown) {
    const isBack = fault.kind === 'tube miscounted' || isWhole;
    if (isBack) ground.ledger.settle(fault, 'box against tubes');
  }
}

/** Writes down a box that was carried to the strong room without an entry. */
export async function recordCarriedBox(ground: Ground, box: TrueBox): Promise<void> {
  const bench = { custodian: 'jonas' };
  const outcome = await seal(ground, bench, box);
  if (outcome === 'sealed') {
    box.isWritten = true;
    ground.boxesPacked.push({ box: box.box, pieceStandard: box.pieceStandard });
    return;
  }
  // Its tubes go back to put-up, to be weighed and packed anew.
  ground.world.boxes.delete(box.box);
  for (const tube of box.tubes) ground.world.tubes.set(tube.tube, tube);
  if (outcome === 'differs') await unpack(ground, bench, box.tubes);
}
