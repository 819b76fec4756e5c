import type { MovementRow } from '../../journal/core-books.ts';
import { placeName } from '../account/index.ts';
import { oddsOf } from './fault-kinds.ts';
import { type Lattice, signature } from './lattice.ts';
import type { Cell } from './search-facts.ts';
import { lookFor, type Suspicion } from './suspicion.ts';

/** When an act really happened, against the tallies of its two places, and what that adds to them. */
interface ActTime {
  readonly words: string;
  readonly adds: Readonly<Record<string, number>>;
}

/** So many of the last entries at a place before its tally can have been written before they were done. */
const lastBefore = 10;

/** What an act between two tallies adds where its entry stands elsewhere. */
function addsOf(
  movement: MovementRow,
  ends: readonly Cell[],
  act: number,
): Readonly<Record<string, number>> {
  const adds: Record<string, number> = {};
  for (const { place, tally } of ends) {
    const sign = place === movement.from ? 1 : -1;
    // Done before the tally and written after it: the book still holds what has gone.
    if (act < tally && tally < movement.entry) adds[place] = sign * movement.pieces;
    if (movement.entry < tally && tally < act) adds[place] = 0 - sign * movement.pieces;
  }
  return adds;
}

const isEmpty = (adds: object): boolean => Object.keys(adds).length === 0;

function actTimes(movement: MovementRow, ends: readonly Cell[]): readonly ActTime[] {
  const tallies = [...new Set(ends.map(({ tally }) => tally))].sort((a, b) => a - b);
  // One moment before, between and after the tallies.
  const moments = [0, ...tallies].map((tally) => tally + 0.5);
  return moments.flatMap((act): ActTime[] => {
    const adds = addsOf(movement, ends, act);
    if (isEmpty(adds)) return [];
    const places = Object.keys(adds).map(placeName).join(' and of ');
    const words =
      act < movement.entry
        ? `was done before the tally of ${places} and written after it, in shift ${movement.shift}`
        : `was done after the tally of ${places} and written before it`;
    return [{ words, adds }];
  });
}

/** Places of the last entries before each tally: those that can have been written too early. */
function nearTallies(
  lattice: Lattice,
  movements: readonly MovementRow[],
): ReadonlySet<MovementRow> {
  return new Set(
    lattice.cells.flatMap(({ place, tally }) =>
      movements
        .filter(({ entry, from, to }) => entry < tally && (from === place || to === place))
        .slice(-lastBefore),
    ),
  );
}

/** Entries that were written after a tally though done before it, or the other way round. */
export function ofEntryTimes(
  lattice: Lattice,
  movements: readonly MovementRow[],
): readonly Suspicion[] {
  const near = nearTallies(lattice, movements);
  return movements.flatMap((movement): Suspicion[] => {
    const ends = lattice.cells.filter(
      ({ place }) => place === movement.from || place === movement.to,
    );
    const isLate = ends.some(({ tally }) => tally < movement.entry);
    if (!isLate && !near.has(movement)) return [];
    const times = actTimes(movement, ends);
    if (times.length === 0) return [];
    const entry = `entry ${movement.entry}${movement.line > 1 ? `, line ${movement.line}` : ''}`;
    const odds = oddsOf(lattice.rates, 'entry at the wrong time', 1 / times.length);
    return [
      {
        name: `${entry} at the wrong time`,
        kind: 'entry at the wrong time',
        options: times.map(({ adds }, at) => ({
          value: at + 1,
          weight: odds,
          signature: signature(lattice, adds),
        })),
        words: (value) => `${entry} ${times[value - 1]?.words ?? 'stands at the wrong time'}`,
        evidence: null,
        look: lookFor(
          'entry at the wrong time',
          `time/${movement.entry}`,
          `Compare the hour of ${entry} with its paper`,
        ),
      },
    ];
  });
}
