import type { MovementRow } from '../../journal/core-books.ts';
import { type FaultKind, faultKindNames } from './fault-kinds.ts';

const isWay = (row: MovementRow, from: string, to: string) => row.from === from && row.to === to;

/** How often each kind of fault could have happened in some movements of pieces and tubes packed. */
export function opportunitiesIn(
  movements: readonly MovementRow[],
  tubesPacked: number,
): readonly { readonly kind: FaultKind; readonly count: number }[] {
  const moved = movements.filter(({ pieces }) => pieces > 0);
  const count = (from: string, to: string) => moved.filter((row) => isWay(row, from, to)).length;
  const shifts = new Set(moved.map(({ shift }) => shift)).size;
  const places = new Set(
    moved.flatMap(({ shift, from, to }) => [`${shift} ${from}`, `${shift} ${to}`]),
  );
  const boxes = new Set(
    moved.filter((row) => isWay(row, 'put-up', 'strong-room')).map(({ container }) => container),
  ).size;
  const counts: Readonly<Record<FaultKind, number>> = {
    'tally miscounted': places.size,
    'piece gone': places.size,
    'delivery miscounted': count('press-room', 'in-transit'),
    'delivery not accepted': count('press-room', 'in-transit'),
    'reject not written': shifts,
    'reject written twice': count('press-room', 'scrap'),
    'sample not written': shifts,
    'blanks miscounted': count('receiving', 'press-room'),
    'tube miscounted': tubesPacked,
    'box opened since': boxes,
    'tube or box not booked': shifts,
    'move not recorded': shifts,
    'archive piece not written': shifts,
    'entry at the wrong time': moved.length,
    'several entries together': shifts,
    'mass slip': moved.length,
    'wrong tare': tubesPacked,
    'entry recorded twice': moved.length,
    'entry turned round': moved.length,
    'digits swapped': moved.length,
    'unit slip': moved.length,
    'wrong place booked': moved.length,
    'something else': places.size,
  };
  return faultKindNames.map((kind) => ({ kind, count: counts[kind] }));
}
