import { balances } from '../demonstration/instruments.ts';
import { type Heap, heapGrams } from '../demonstration/metal.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import { type Act, attempt, type Ground, someone, unexpected } from './ground.ts';
import { losePieces } from './losses.ts';
import { recordMove } from './record-move.ts';
import { idOf, standardOf, type TrueDelivery } from './world.ts';

/** Good pieces of a run that are to go to put-up. */
interface Outgoing {
  readonly melt: MeltAtWork;
  readonly run: string;
  /** What lies at the press; what leaves is taken out of it. */
  readonly heap: Heap;
  readonly inspector: string;
}

/** How many pieces may leave the run, where the record says fewer than lie there. */
const deliverable = /; (\d+) may:/;

/** Sends the pieces of a run to put-up, where somebody else signs that they came. */
export async function deliver(ground: Ground, outgoing: Outgoing): Promise<void> {
  const { melt, run, heap, inspector } = outgoing;
  const act = (said: number): Act => ({
    by: someone(inspector),
    command: 'deliver-pieces',
    input: {
      melt: idOf(melt),
      run,
      pieces: said,
      gross: ground.balances.net('press', heapGrams(heap.slice(0, said))),
      instrument: balances.press.instrument,
    },
    seconds: 300,
  });
  if (heap.length === 0) return;
  const isMiscounted = heap.length > 2 && ground.ledger.happens('delivery miscounted');
  let said = heap.length;
  const pieceStandard = standardOf(melt);
  const move = () => ({
    said,
    moved: said - (isMiscounted ? 1 : 0),
    places: ['press-room', 'in-transit'] as const,
    pieceStandard,
  });
  let tried = await recordMove(ground, act(said), move());
  if (tried.refusals.includes('PiecesNotJudged') && tried.outcome.outcome === 'refused') {
    // Rejects were written too often or too high: fewer pieces may leave than lie there.
    said = Number(deliverable.exec(tried.outcome.refusals[0]?.message ?? '')?.[1] ?? 0);
    if (said < 3) return;
    tried = await recordMove(ground, act(said), move());
  }
  // The book of the press room is short by a fault before: the pieces stay until it is found.
  if (tried.refusals.includes('NotEnoughPieces')) return;
  const entry = tried.recorded?.entries[0]?.number;
  if (entry === undefined) throw unexpected(act(said), tried);
  const leaving = heap.splice(0, said - (isMiscounted ? 1 : 0));
  const delivery = { entry, melt, heap: leaving, label: said, sender: inspector };
  ground.world.deliveries.set(entry, delivery);
  if (isMiscounted) {
    ground.ledger.plant('delivery miscounted', {
      words: `delivery ${entry} is signed for ${said} pieces and holds ${leaving.length}`,
      seenAt: [`delivery/${entry}`, `entry ${entry}`],
      places: ['press-room', 'put-up', 'in-transit'],
      pieceStandard,
    });
    // The piece that was counted and not sent lies in the press room.
    ground.world.heapOf(ground.world.press, idOf(melt)).push(...heap.splice(0));
  }
  await receiveDelivery(ground, delivery);
}

/** The act by which put-up takes over a delivery. */
function acceptance(delivery: TrueDelivery, pieces: number): Act {
  return {
    by: 'jonas',
    command: 'accept-delivery',
    input: { delivery: delivery.entry, pieces },
    seconds: 240,
  };
}

/** Put-up takes the pieces over: half of the time by counting, else by their label. */
async function receiveDelivery(ground: Ground, delivery: TrueDelivery): Promise<void> {
  const { ledger, world, chance } = ground;
  const { entry, heap, label, melt } = delivery;
  if (ledger.happens('delivery not accepted')) {
    world.deliveries.delete(entry);
    world.arrived.set(entry, delivery);
    melt.loose.push(...heap);
    ledger.plant('delivery not accepted', {
      words: `delivery ${entry} of ${label} pieces came and nobody accepted it`,
      seenAt: [`accept/${entry}`],
      places: ['in-transit', 'put-up'],
      pieceStandard: standardOf(melt),
    });
    return;
  }
  if (chance.uniform() < 0.5 && heap.length !== label) await fetchMissing(ground, delivery);
  await accept(ground, delivery);
  world.deliveries.delete(entry);
  melt.loose.push(...heap);
  losePieces(ground, { place: 'put-up', melt, heap: melt.loose });
}

/** Records that a delivery has come. */
export async function accept(ground: Ground, delivery: TrueDelivery): Promise<void> {
  const { label, melt } = delivery;
  const places = ['in-transit', 'put-up'] as const;
  const move = { said: label, moved: label, places, pieceStandard: standardOf(melt) };
  const act = acceptance(delivery, label);
  const tried = await recordMove(ground, act, move);
  if (!tried.recorded) throw unexpected(act, tried);
}

/** Counted, another number came than was sent: it is refused, and the piece is fetched. */
async function fetchMissing(ground: Ground, delivery: TrueDelivery): Promise<void> {
  const { entry, heap, label, melt } = delivery;
  const act = acceptance(delivery, heap.length);
  const tried = await attempt(ground, act);
  if (!tried.refusals.includes('DeliveryDiffers')) throw unexpected(act, tried);
  ground.ledger.found(`delivery/${entry}`, 'count of a delivery');
  const left = ground.world.heapOf(ground.world.press, idOf(melt));
  heap.push(...left.splice(0, label - heap.length));
}
