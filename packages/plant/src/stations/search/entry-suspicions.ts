import { type BookedMove, entryFaults, type FaultVariable } from '@cupel/calculation';
import type { MovementRow } from '../../journal/core-books.ts';
import { type FaultKind, faultKinds } from './fault-kinds.ts';
import type { Lattice } from './lattice.ts';
import { lookFor, type Suspicion } from './suspicion.ts';

const entryKindOf: Readonly<Record<string, FaultKind>> = {
  'recorded twice': 'entry recorded twice',
  'turned round': 'entry turned round',
  'digits swapped': 'digits swapped',
  'slip of ten, hundred or thousand': 'unit slip',
  'booked to the wrong place': 'wrong place booked',
};

/** Places that could have been meant in place of another. */
const mistakenFor: Readonly<Record<string, readonly string[]>> = {
  scrap: ['laboratory', 'archive'],
  laboratory: ['scrap', 'archive'],
  archive: ['strong-room', 'scrap'],
  'strong-room': ['archive'],
  'press-room': ['laboratory'],
};

export function ofEntries(
  lattice: Lattice,
  movements: readonly MovementRow[],
): readonly Suspicion[] {
  const cellOf = (place: string): number | null => {
    const at = lattice.cells.findIndex((cell) => cell.place === place);
    return at < 0 ? null : at;
  };
  const moves = movements.map(
    (movement): BookedMove => ({
      name: `entry ${movement.entry}${movement.line > 1 ? `, line ${movement.line}` : ''}`,
      fromCell: cellOf(movement.from),
      toCell: cellOf(movement.to),
      pieces: movement.pieces,
      likelyOtherCells: (mistakenFor[movement.to] ?? []).flatMap((place) => cellOf(place) ?? []),
    }),
  );
  const rate = (kind: FaultKind) => lattice.rates.get(kind) ?? faultKinds[kind].assumedRate;
  const variables = entryFaults(moves, lattice.cells.length, {
    recordedTwice: rate('entry recorded twice'),
    turnedRound: rate('entry turned round'),
    digitsSwapped: rate('digits swapped'),
    unitSlip: rate('unit slip'),
    otherCell: rate('wrong place booked'),
  });
  return variables.map((variable) => ofEntry(variable));
}

function ofEntry(variable: FaultVariable): Suspicion {
  const [, entry = '', way = ''] = /^(entry \d+(?:, line \d+)?) (.*)$/.exec(variable.name) ?? [];
  const kind = entryKindOf[way] ?? 'something else';
  return {
    name: variable.name,
    kind,
    options: variable.options,
    words: () => `${entry} is ${way.startsWith('slip') ? `wrong by a ${way}` : way}`,
    evidence: null,
    look: lookFor(kind, entry, `Compare ${entry} with its paper`),
  };
}
