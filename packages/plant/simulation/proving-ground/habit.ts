import { type MovementRow, movements } from '../../src/journal/core-books.ts';
import type { InsidePlace } from '../../src/journal/place.ts';
import { faultKinds } from '../../src/stations/search/fault-kinds.ts';
import type { Ground } from './ground.ts';
import { standardOf } from './world.ts';

interface HabitualLook {
  readonly look: string;
  readonly minutes: number;
  readonly seenIfThere: number;
}

const lookOf = (kind: keyof typeof faultKinds, look: string): HabitualLook => {
  const { minutes, seenIfThere } = faultKinds[kind];
  return { look, minutes, seenIfThere };
};

/** Places from the last station backwards. */
const backwards: readonly InsidePlace[] = [
  'strong-room',
  'put-up',
  'in-transit',
  'press-room',
  'scrap',
  'archive',
  'laboratory',
  'receiving',
];

/** Everything at one place, as people look without figures: count, contents, floor. */
function roundOf(
  ground: Ground,
  place: InsidePlace,
  of: { readonly pieceStandard: string; readonly moved: readonly MovementRow[] },
): readonly HabitualLook[] {
  const way = (from: string, to: string) =>
    of.moved.filter((row) => row.from === from && row.to === to).map(({ entry }) => entry);
  const deliveries = way('press-room', 'in-transit');
  const contents: readonly HabitualLook[] =
    place === 'strong-room'
      ? [lookOf('tube or box not booked', 'unbooked')]
      : place === 'put-up'
        ? [...ground.world.tubes.values()]
            .filter(({ melt }) => standardOf(melt) === of.pieceStandard)
            .map(({ tube }) => lookOf('tube miscounted', `tube/${tube}`))
        : place === 'in-transit'
          ? deliveries.map((entry) => lookOf('delivery not accepted', `accept/${entry}`))
          : place === 'press-room'
            ? [
                lookOf('reject not written', 'rejects'),
                ...deliveries.map((entry) => lookOf('delivery miscounted', `delivery/${entry}`)),
              ]
            : place === 'laboratory'
              ? [lookOf('sample not written', 'samples')]
              : place === 'receiving'
                ? way('receiving', 'press-room').map((entry) =>
                    lookOf('blanks miscounted', `blanks/${entry}`),
                  )
                : [];
  return [
    lookOf('tally miscounted', `count/${place}`),
    ...contents,
    lookOf('piece gone', `floor/${place}`),
  ];
}

/**
 * Expected minutes to a cause in the habitual order: from the last station backwards, everything at
 * each, then the papers of every entry. A round that misses it is begun again.
 */
export async function habitualMinutes(
  ground: Ground,
  cause: { readonly look: string; readonly pieceStandard: string; readonly since: number },
): Promise<number | null> {
  const rows = await ground.plant.books.select(movements, { from: cause.since });
  const moved = rows.filter((row) => row.pieceStandard === cause.pieceStandard && row.pieces > 0);
  const of = { pieceStandard: cause.pieceStandard, moved };
  const papers = moved.map(({ entry }) => lookOf('entry recorded twice', `entry ${entry}`));
  const order = [...backwards.flatMap((place) => roundOf(ground, place, of)), ...papers];
  const name = cause.look.replace(/, line \d+$/, '');
  const at = order.findIndex(({ look }) => look === name);
  const found = order[at];
  if (!found) return null;
  const round = order.reduce((sum, { minutes }) => sum + minutes, 0);
  const upTo = order.slice(0, at + 1).reduce((sum, { minutes }) => sum + minutes, 0);
  return upTo + (round * (1 - found.seenIfThere)) / found.seenIfThere;
}
