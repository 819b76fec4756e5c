import type { Heap } from '../demonstration/metal.ts';
import type { MeltAtWork } from '../demonstration/state.ts';
import type { Ground } from './ground.ts';
import { idOf, standardOf, type TrueTube } from './world.ts';

/** A tube filled with one too few or too many, or from the tray of another melt; nothing when it is filled rightly. */
export function fillWrongly(ground: Ground, tube: string, melt: MeltAtWork): Heap | undefined {
  const { ledger, chance } = ground;
  const { piecesPerTube } = melt.truth.standard;
  if (melt.loose.length > piecesPerTube && ledger.happens('tube miscounted')) {
    const pieces = piecesPerTube + chance.one([-1, 1]);
    ledger.plant('tube miscounted', {
      words: `tube ${tube} holds ${pieces}, not ${piecesPerTube}`,
      seenAt: [`tube/${tube}`],
      places: ['put-up', 'strong-room'],
      pieceStandard: standardOf(melt),
    });
    return melt.loose.splice(0, pieces);
  }
  const other = ground.world.melts.find(
    (one) =>
      one !== melt && standardOf(one) === standardOf(melt) && one.loose.length > piecesPerTube,
  );
  if (!other || !ledger.happens('melts mixed in a tube')) return undefined;
  const fault = ledger.plant('melts mixed in a tube', {
    words: `tube ${tube} says melt ${idOf(melt)} and holds pieces of ${idOf(other)}`,
    seenAt: [`melt/${idOf(melt)}`, `melt/${idOf(other)}`],
  });
  ground.mends.set(fault.number, () => {
    other.loose.push(...melt.loose.splice(0, piecesPerTube));
  });
  return other.loose.splice(0, piecesPerTube);
}

/** What happens to a tube after its count was proved. */
export function disturbTube(ground: Ground, tube: TrueTube): void {
  const { ledger, world } = ground;
  const pieceStandard = standardOf(tube.melt);
  const places = ['put-up', 'strong-room'];
  if (ledger.happens('piece stolen from a tube') && tube.heap.pop() !== undefined) {
    world.stolen += 1;
    ledger.plant('piece stolen from a tube', {
      words: `a piece stolen from tube ${tube.tube} after its count was proved`,
      seenAt: [`tube/${tube.tube}`],
      places,
      pieceStandard,
    });
  }
  const other = [...world.tubes.values()].find(
    (one) => one !== tube && standardOf(one.melt) === pieceStandard,
  );
  if (!other || !ledger.happens('piece put into the wrong tube')) return;
  other.heap.push(...tube.heap.splice(0, 1));
  ledger.plant('piece put into the wrong tube', {
    words: `a piece of tube ${tube.tube} lies in tube ${other.tube}`,
    seenAt: [`tube/${tube.tube}`, `tube/${other.tube}`],
    places,
    pieceStandard,
  });
}

/** Of a piece in the wrong tube, one tube that is opened tells half: the other has to be opened too. */
export function keepOtherTubeOpen({ ledger, world }: Ground, opened: string): void {
  const look = `tube/${opened}`;
  for (const fault of ledger.planted) {
    if (fault.kind !== 'piece put into the wrong tube' || fault.state !== 'found') continue;
    if (!fault.seenAt.has(look)) continue;
    const others = [...fault.seenAt].filter((one) => one !== look);
    const isShut = (one: string) => !world.openedTubes.has(one.slice('tube/'.length));
    if (others.some(isShut)) ledger.keepOpen(fault);
  }
}
