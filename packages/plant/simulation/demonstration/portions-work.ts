import type { KeptPortion } from './equipment.ts';
import { dayAfter } from './founding.ts';
import { balances } from './instruments.ts';
import { heapGrams } from './metal.ts';
import { weigh } from './readings.ts';
import { type MeltAtWork, nextNumber, type Scene } from './state.ts';

/** How long a reserve is kept; those of the first day are short, since the terms were older. */
const reserveDays = 45;
const reserveDaysOfFirstDay = 12;

/** Grams of cuttings in each portion of gold, whose blanks are all cut or returned. */
const cuttingsGrams = 2;

const letters = { plant: 'P', supplier: 'S', umpire: 'U', reserve: 'R' } as const;

const shelves = {
  plant: 'Bench of the laboratory',
  supplier: 'Portion shelf, box 1',
  umpire: 'Portion shelf, box 2',
  reserve: 'Reserve shelf, box 1',
} as const;

interface PlannedPortion {
  readonly for: KeptPortion['for'];
  readonly blanks: readonly string[];
  readonly grams: number;
}

async function seal(scene: Scene, melt: string, planned: readonly PlannedPortion[]): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  const { date, day } = equipment.today;
  const sealed = planned.map((one) => ({
    ...one,
    portion: `${melt}-${letters[one.for]}`,
    seal: nextNumber(scene, 'PS-', 5),
  }));
  const keptUntil = dayAfter(date, day === 0 ? reserveDaysOfFirstDay : reserveDays);
  await scene.hand.do({
    by: 'wren',
    with: 'bettina',
    command: 'seal-portions',
    input: {
      melt,
      portions: sealed.map(({ grams, ...one }) => ({
        ...one,
        gross: weigh(balances.blanks, grams, equipment.chance),
        place: shelves[one.for],
        keptUntil: one.for === 'reserve' ? keptUntil : null,
      })),
      instrument: balances.blanks.instrument,
    },
    seconds: 40,
  });
  for (const { grams: _grams, ...one } of sealed) equipment.portions.push({ ...one, melt });
}

/** Divides the measured blanks of silver: those for assay, and one each for the other parties. */
export async function sealSample(scene: Scene, melt: MeltAtWork): Promise<void> {
  const { standard, melt: id } = melt.truth;
  if (standard.assayMethod !== 'fineness-by-difference') return;
  const others = [...melt.drawn.keys()].filter((blank) => !melt.assayBlanks.includes(blank));
  const gramsOf = (blanks: readonly string[]) =>
    heapGrams(blanks.map((blank) => melt.drawn.get(blank) ?? 0));
  const portion = (party: KeptPortion['for'], blanks: readonly string[]): PlannedPortion => ({
    for: party,
    blanks,
    grams: gramsOf(blanks),
  });
  await seal(scene, id, [
    portion('plant', melt.assayBlanks),
    portion('supplier', others.slice(0, 1)),
    portion('umpire', others.slice(1, 2)),
    portion('reserve', others.slice(2, 3)),
  ]);
}

/** Seals cuttings of gold for the other parties. */
export async function sealCuttings(scene: Scene, melt: MeltAtWork): Promise<void> {
  if (melt.truth.standard.metal !== 'gold') return;
  const parties = ['supplier', 'umpire', 'reserve'] as const;
  const planned = parties.map((party) => ({ for: party, blanks: [], grams: cuttingsGrams }));
  await seal(scene, melt.truth.melt, planned);
}

const portionOf = (scene: Scene, melt: string, party: KeptPortion['for']) =>
  scene.equipment?.portions.find((one) => one.melt === melt && one.for === party);

/** Opens the plant's own portion, so that its blanks can be cut. */
export async function openPlantPortion(scene: Scene, melt: MeltAtWork): Promise<void> {
  const own = portionOf(scene, melt.truth.melt, 'plant');
  if (!own) return;
  await scene.hand.do({
    by: 'tamsin',
    with: 'wren',
    command: 'open-portion',
    input: { portion: own.portion, sealFound: own.seal, reason: 'Assay of the plant.' },
    seconds: 20,
  });
}

/** Blanks of a melt that lie sealed for somebody else. */
export function keptBlanks(scene: Scene, melt: string): readonly string[] {
  const portions = scene.equipment?.portions ?? [];
  return portions
    .filter((one) => one.melt === melt && one.for !== 'plant')
    .flatMap(({ blanks }) => blanks);
}

/** Grams of cuttings of a melt that lie sealed in the laboratory; portions of silver are blanks. */
export function sealedCuttingsGrams(scene: Scene, melt: string): number {
  const portions = scene.equipment?.portions ?? [];
  const sealed = portions.filter((one) => one.melt === melt && one.blanks.length === 0);
  return sealed.length * cuttingsGrams;
}

/** A portion leaves the laboratory; what was in it is there no longer. */
function leave(scene: Scene, portion: KeptPortion): void {
  const { portions = [] } = scene.equipment ?? {};
  portions.splice(portions.indexOf(portion), 1);
  const melt = scene.melts.find(({ truth }) => truth.melt === portion.melt);
  for (const blank of portion.blanks) melt?.drawn.delete(blank);
  if (portion.blanks.length > 0) return;
  const takenOut = scene.equipment?.takenOutGrams;
  takenOut?.set(portion.melt, (takenOut.get(portion.melt) ?? 0) + cuttingsGrams);
}

/** Hands the portion of the supplier or the umpire to him. */
export async function sendPortion(
  scene: Scene,
  melt: string,
  to: 'supplier' | 'umpire',
): Promise<void> {
  const portion = portionOf(scene, melt, to);
  if (!portion) return;
  await scene.hand.do({
    by: 'bettina',
    with: 'wren',
    command: 'send-portion',
    input: {
      portion: portion.portion,
      to,
      sealFound: portion.seal,
      document: `Letter with ${portion.portion}`,
    },
    seconds: 60,
  });
  leave(scene, portion);
}

/** Puts a reserve whose day has passed to the scrap. */
export async function discardReserve(scene: Scene, melt: string): Promise<void> {
  const portion = portionOf(scene, melt, 'reserve');
  if (!portion) return;
  await scene.hand.do({
    by: 'orla',
    with: 'bettina',
    command: 'discard-portion',
    input: {
      portion: portion.portion,
      sealFound: portion.seal,
      reason: 'Its day has passed, and nobody claims anything of the melt.',
    },
    seconds: 60,
  });
  leave(scene, portion);
}

/** Keeps what supplier or umpire reports of a portion, as his document states it. */
export async function recordResult(
  scene: Scene,
  of: {
    readonly portion: string;
    readonly fineness: string;
    readonly uncertainty: string;
    readonly splittingLimit: string;
    readonly document: string;
    readonly method: string;
  },
): Promise<void> {
  const { equipment } = scene;
  if (!equipment) return;
  await scene.hand.do({
    by: 'bettina',
    command: 'record-portion-result',
    input: { ...of, coverageFactor: 2, reportedOn: equipment.today.date, correction: null },
    seconds: 60,
  });
}
