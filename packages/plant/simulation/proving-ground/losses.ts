import type { InsidePlace } from '../../src/journal/place.ts';
import type { Heap } from '../demonstration/metal.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import type { Ground } from './ground.ts';
import { idOf, standardOf } from './world.ts';

/** Pieces that lie open somewhere. */
interface OpenPieces {
  readonly place: InsidePlace;
  readonly melt: MeltAtWork;
  readonly heap: Heap;
}

/** Pieces that lie open can be stolen, fall under a bench, or go to the laboratory unwritten. */
export function losePieces(ground: Ground, open: OpenPieces): void {
  const { place, melt, heap } = open;
  const { ledger, world } = ground;
  const pieceStandard = standardOf(melt);
  const gone = (): number | undefined => (heap.length > 2 ? heap.pop() : undefined);
  if (ledger.happens('piece stolen from a tray') && gone() !== undefined) {
    world.stolen += 1;
    const words = `a piece of melt ${idOf(melt)} stolen from ${place}`;
    ledger.plant('piece stolen from a tray', { words, seenAt: [], places: [place], pieceStandard });
  }
  if (ledger.happens('piece fallen')) {
    const grams = gone();
    if (grams === undefined) return;
    world.fallen.push({ place, melt, grams });
    const words = `a piece of melt ${idOf(melt)} fell under a bench in ${place}`;
    const seenAt = [`floor/${place}`];
    ledger.plant('piece fallen', { words, seenAt, places: [place], pieceStandard });
  }
  if (place === 'press-room' && ledger.happens('sample not written')) {
    const grams = gone();
    if (grams === undefined) return;
    world.samplesUnwritten.push({ melt, grams, isSigned: false });
    const words = `a piece of melt ${idOf(melt)} went to the laboratory unwritten`;
    const places = ['press-room', 'laboratory'];
    ledger.plant('sample not written', { words, seenAt: ['samples'], places, pieceStandard });
  }
}
