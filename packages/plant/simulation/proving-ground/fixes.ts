import type { InsidePlace } from '../../src/journal/place.ts';
import { recordCarriedBox } from './boxes.ts';
import { accept } from './deliveries.ts';
import { type Ground, unexpected } from './ground.ts';
import type { Planted } from './ledger.ts';
import { entryOf, partsOf } from './looking.ts';
import { recordMove } from './record-move.ts';
import { rejectsAct } from './rejects.ts';
import { explain, signDifference } from './settle.ts';
import { tallyPlaces } from './tallies.ts';
import { openTube } from './tube-acts.ts';
import { idOf, type PaperOfEntry, piecesIn, standardOf, type TrueBox } from './world.ts';

/** Puts right what a look has shown, and counts again where something changed. */
export async function fix(ground: Ground, look: string, pieceStandard: string): Promise<void> {
  const faults = ground.ledger.found(look, 'search', { pieceStandard });
  const { kind, thing } = partsOf(look);
  switch (kind) {
    case 'count':
      ground.ledger.found(look, 'search');
      return count(ground, [thing as InsidePlace]);
    case 'floor':
      return pickUp(ground, thing as InsidePlace, pieceStandard);
    case 'tube':
      return openMiscounted(ground, thing);
    case 'box':
      return relabel(ground, thing);
    case 'samples':
      return bringBack(ground, pieceStandard);
    case 'unbooked':
      return writeBoxes(ground, pieceStandard);
    case 'accept':
      return acceptArrived(ground, entryOf(thing));
    case 'delivery':
      return carryOver(ground, entryOf(thing), faults);
    case 'blanks':
      return carryBack(ground, entryOf(thing), faults);
    case 'rejects':
      await writeRejects(ground, pieceStandard);
      return signEntries(ground, faults);
    default:
      return correctEntry(ground, entryOf(thing), faults);
  }
}

async function count(ground: Ground, places: readonly InsidePlace[]): Promise<void> {
  await tallyPlaces(ground, places, { isFirst: false });
}

async function pickUp(ground: Ground, place: InsidePlace, standard: string): Promise<void> {
  const { fallen, press } = ground.world;
  const at = fallen.findIndex((one) => one.place === place && standardOf(one.melt) === standard);
  const [piece] = at < 0 ? [] : fallen.splice(at, 1);
  if (!piece) return;
  const heap = place === 'put-up' ? piece.melt.loose : ground.world.heapOf(press, idOf(piece.melt));
  heap.push(piece.grams);
  await count(ground, [place]);
}

async function openMiscounted(ground: Ground, name: string): Promise<void> {
  const tube = ground.world.tubes.get(name);
  if (!tube) return;
  const waiting = ground.openTubes.get(standardOf(tube.melt)) ?? [];
  const at = waiting.findIndex((one) => one.tube === name);
  if (at >= 0) waiting.splice(at, 1);
  await openTube(ground, { custodian: 'jonas' }, tube);
  await count(ground, ['put-up']);
}

/** A sealed box that has lost a piece is counted as what is in it from now on. */
async function relabel(ground: Ground, name: string): Promise<void> {
  const box = ground.world.boxes.get(name);
  if (!box) return;
  box.label = piecesIn(box);
  await count(ground, ['strong-room']);
}

async function bringBack(ground: Ground, standard: string): Promise<void> {
  const { samplesUnwritten, press } = ground.world;
  const at = samplesUnwritten.findIndex(
    ({ melt, isSigned }) => standardOf(melt) === standard && !isSigned,
  );
  const [sample] = at < 0 ? [] : samplesUnwritten.splice(at, 1);
  if (!sample) return;
  ground.world.heapOf(press, idOf(sample.melt)).push(sample.grams);
  await count(ground, ['laboratory', 'press-room']);
}

async function writeBoxes(ground: Ground, standard: string): Promise<void> {
  const boxes = [...ground.world.boxes.values()];
  for (const box of boxes.filter((one) => isUnbooked(one, standard))) {
    await recordCarriedBox(ground, box);
  }
  await count(ground, ['put-up', 'strong-room']);
}

const isUnbooked = (box: TrueBox, standard: string): boolean =>
  !box.isWritten && !box.isSigned && box.pieceStandard === standard;

async function acceptArrived(ground: Ground, entry: number): Promise<void> {
  const delivery = ground.world.arrived.get(entry);
  if (!delivery) return;
  ground.world.arrived.delete(entry);
  await accept(ground, delivery);
  await count(ground, ['in-transit', 'put-up']);
}

/** What was signed for and not sent lies in the press room, and is carried over. */
async function carryOver(ground: Ground, entry: number, faults: readonly Planted[]): Promise<void> {
  const { papers, press } = ground.world;
  const paper = papers.get(entry);
  const melt = await meltOf(ground, entry);
  if (!paper || !melt || !faults.some(({ kind }) => kind === 'delivery miscounted')) {
    return correctEntry(ground, entry, faults);
  }
  const missing = paper.said - paper.moved;
  melt.loose.push(...ground.world.heapOf(press, idOf(melt)).splice(0, missing));
  papers.set(entry, { ...paper, moved: paper.said });
  await count(ground, ['press-room', 'put-up', 'in-transit']);
}

/** Blanks that were written and not taken lie in their drum, and are carried over. */
async function carryBack(ground: Ground, entry: number, faults: readonly Planted[]): Promise<void> {
  const { papers, press } = ground.world;
  const paper = papers.get(entry);
  const melt = await meltOf(ground, entry);
  if (!paper || !melt || !faults.some(({ kind }) => kind === 'blanks miscounted')) {
    return correctEntry(ground, entry, faults);
  }
  const drum = [...melt.drums.values()].find((heap) => heap.length > 0);
  const missing = drum?.splice(0, paper.said - paper.moved) ?? [];
  ground.world.heapOf(press, idOf(melt)).push(...missing);
  papers.set(entry, { ...paper, moved: paper.said });
  await count(ground, ['receiving', 'press-room']);
}

async function meltOf(ground: Ground, entry: number) {
  const line = await ground.plant.store.reader.line(entry);
  const { body } = JSON.parse(line?.text ?? '{"body":{}}') as { body: { melt?: string } };
  return ground.world.melts.find((melt) => idOf(melt) === body.melt);
}

async function writeRejects(ground: Ground, standard: string): Promise<void> {
  const { rejectsUnwritten } = ground.world;
  for (const rejects of rejectsUnwritten.splice(0)) {
    if (standardOf(rejects.melt) !== standard) {
      rejectsUnwritten.push(rejects);
      continue;
    }
    const said = rejects.heap.length;
    const act = rejectsAct(ground, { ...rejects, inspector: 'milo' });
    const places = ['press-room', 'scrap'] as const;
    const move = { said, moved: said, places, pieceStandard: standard };
    const tried = await recordMove(ground, act, move);
    if (!tried.recorded && !tried.refusals.includes('NotEnoughPieces'))
      throw unexpected(act, tried);
  }
  await count(ground, ['press-room', 'scrap']);
}

/** No entry turns another one round: what a wrong one moved is signed at both ends, and explained by it. */
async function correctEntry(
  ground: Ground,
  entry: number,
  faults: readonly Planted[],
): Promise<void> {
  for (const fault of faults) {
    if (fault.kind === 'delivery miscounted') return carryOver(ground, entry, faults);
    if (fault.kind === 'blanks miscounted') return carryBack(ground, entry, faults);
  }
  await signEntries(ground, faults);
}

/** Signs at both ends what wrong entries moved; what no tally shows now is left for later. */
async function signEntries(ground: Ground, faults: readonly Planted[]): Promise<void> {
  const { papers } = ground.world;
  for (const fault of faults) {
    for (const look of fault.seenAt) {
      const { kind, thing } = partsOf(look);
      const paper = kind === 'entry' ? papers.get(entryOf(thing)) : undefined;
      if (!paper || paper.said === paper.moved) continue;
      await count(ground, fault.places as readonly InsidePlace[]);
      const isWhole = await signEnds(ground, fault, paper);
      papers.set(paper.entry, { ...paper, moved: paper.said });
      // Another fault hides a part of it: the rest will show, and is signed as unexplained.
      if (!isWhole) fault.state = 'planted';
    }
  }
}

async function signEnds(ground: Ground, fault: Planted, paper: PaperOfEntry): Promise<boolean> {
  const over = paper.said - paper.moved;
  const [from, to] = fault.places as readonly InsidePlace[];
  const { pieceStandard } = fault;
  if (from === undefined || to === undefined || pieceStandard === null) return true;
  const words = `Entry ${paper.entry} says ${paper.said} pieces; its paper says ${paper.moved}.`;
  const ends = [
    { place: from, pieceStandard, pieces: over },
    { place: to, pieceStandard, pieces: -over },
  ];
  let isWhole = true;
  for (const end of ends) {
    const signed = await signDifference(ground, end, words);
    isWhole &&= signed.pieces === Math.abs(over);
    for (const name of signed.differences) {
      await explain(ground, name, { outcome: 'explained', words });
    }
  }
  return isWhole;
}
