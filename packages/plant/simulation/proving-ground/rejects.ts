import type { InsidePlace } from '../../src/journal/place.ts';
import { balances } from '../demonstration/instruments.ts';
import { type Heap, heapGrams } from '../demonstration/metal.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import { type Act, type Ground, someone, unexpected } from './ground.ts';
import { recordMove, transposed } from './record-move.ts';
import { standardOf } from './world.ts';

/** Rejects of a run. */
export interface Rejects {
  readonly melt: MeltAtWork;
  readonly run: string;
  readonly heap: Heap;
  readonly inspector: string;
}

const ways: readonly InsidePlace[] = ['press-room', 'scrap'];

/** The act that says that rejects went to the scrap. */
export function rejectsAct(ground: Ground, rejects: Rejects, said = rejects.heap.length): Act {
  return {
    by: someone(rejects.inspector),
    command: 'set-rejects-aside',
    input: {
      run: rejects.run,
      family: 'feeding or handling',
      pieces: said,
      gross: ground.balances.net('press', heapGrams(rejects.heap)),
      instrument: balances.press.instrument,
    },
    seconds: 120,
  };
}

/** Rejects go to the scrap; the entry may be forgotten, late, doubled or wrong in its digits. */
export async function setRejectsAside(ground: Ground, rejects: Rejects): Promise<void> {
  const { melt, heap, run } = rejects;
  const pieceStandard = standardOf(melt);
  const { ledger, world } = ground;
  world.heapOf(world.scrap, pieceStandard).push(...heap);
  const at = { places: ways, pieceStandard };
  const words = `${heap.length} rejects of run ${run}`;
  if (ledger.happens('rejects not written')) {
    world.rejectsUnwritten.push({ melt, heap, run });
    ledger.plant('rejects not written', { words, seenAt: ['rejects'], ...at });
    return;
  }
  if (ledger.happens('rejects written late')) {
    const fault = ledger.plant('rejects written late', { words, seenAt: [], ...at });
    ground.lateActs.push(async () => {
      await write(ground, rejects);
      ledger.settle(fault, 'tally');
    });
    return;
  }
  await write(ground, rejects);
}

async function write(ground: Ground, rejects: Rejects): Promise<void> {
  const { heap, melt, run } = rejects;
  const { ledger } = ground;
  const pieceStandard = standardOf(melt);
  const swapped = transposed(heap.length);
  const isWrong = swapped !== undefined && ledger.happens('digits of an entry transposed');
  const said = isWrong ? swapped : heap.length;
  const move = { said, moved: heap.length, places: ways, pieceStandard, seenAt: ['rejects'] };
  const act = rejectsAct(ground, rejects, said);
  const tried = await recordMove(ground, act, move);
  const words = `${said} rejects of run ${run} written, ${heap.length} set aside`;
  if (isWrong) {
    const entry = tried.recorded?.entries[0]?.number;
    const seenAt = entry === undefined ? [] : [`entry ${entry}`, 'rejects'];
    const fault = ledger.plant('digits of an entry transposed', {
      words,
      seenAt,
      places: entry === undefined ? [] : ways,
      pieceStandard,
    });
    if (tried.recorded) return;
    ledger.settle(fault, 'rule that refuses');
    const right = rejectsAct(ground, rejects);
    const again = await recordMove(ground, right, { ...move, said: heap.length });
    if (!again.recorded) leaveUnwritten(ground, rejects);
    return;
  }
  if (tried.recorded) return;
  if (!tried.refusals.includes('NotEnoughPieces')) throw unexpected(act, tried);
  leaveUnwritten(ground, rejects);
}

/** The book has no room for the rejects, because something before them is wrong: they stay unwritten. */
function leaveUnwritten(ground: Ground, { melt, heap, run }: Rejects): void {
  ground.world.rejectsUnwritten.push({ melt, heap, run });
  ground.ledger.plant('rejects not written', {
    words: `${heap.length} rejects of run ${run}, refused because the book of the press room is short`,
    seenAt: ['rejects'],
    places: ways,
    pieceStandard: standardOf(melt),
  });
}
