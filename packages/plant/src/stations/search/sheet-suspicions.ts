import { entrySubsets } from '@cupel/calculation';
import type { MovementRow } from '../../journal/core-books.ts';
import { placeName } from '../account/index.ts';
import { type Lattice, ways } from './lattice.ts';
import { lookFor, type Suspicion } from './suspicion.ts';

/** Of sheets whose entries are wrong together so many have two, three and four of them: assumptions. */
const partOfSize = [0, 0.6, 0.3, 0.1] as const;

/** Half of them are entries that follow one another. */
const partInARow = 0.5;

/** Sets of three and four are sought among so many entries of a way. */
const mostForThree = 300;
const mostForFour = 60;

/** The sets of entries that make up a number of pieces, with their part of the rate. */
interface Sheet {
  readonly pieces: number;
  readonly share: number;
  readonly entries: readonly string[];
  readonly others: number;
}

function choices(from: number, count: number): number {
  let product = 1;
  for (let at = 0; at < count; at += 1) product = (product * (from - at)) / (at + 1);
  return product;
}

/** Runs of so many entries in a row that make up a number of pieces. */
function runsOf(rows: readonly MovementRow[], size: number, pieces: number): string[][] {
  const found: string[][] = [];
  for (let at = 0; at + size <= rows.length; at += 1) {
    const run = rows.slice(at, at + size);
    if (run.reduce((sum, row) => sum + row.pieces, 0) !== pieces) continue;
    found.push(run.map(({ entry }) => String(entry)));
  }
  return found;
}

const mostEntries = (count: number): number =>
  count <= mostForFour ? 4 : count <= mostForThree ? 3 : 2;

function sheetOf(rows: readonly MovementRow[], pieces: number): Sheet | undefined {
  const { sizes, subsets } = entrySubsets({
    entries: rows.map((row) => ({
      name: row.line > 1 ? `${row.entry}, line ${row.line}` : String(row.entry),
      pieces: row.pieces,
    })),
    difference: pieces,
    mostEntries: mostEntries(rows.length),
  });
  const inARow: string[][] = [];
  let share = 0;
  let sets = 0;
  for (const { entries, sets: found } of sizes) {
    const part = partOfSize[entries - 1] ?? 0;
    if (part === 0 || entries > rows.length) continue;
    const runs = runsOf(rows, entries, pieces);
    inARow.push(...runs);
    sets += found;
    share += part * (1 - partInARow) * (found / choices(rows.length, entries));
    share += part * partInARow * (runs.length / (rows.length - entries + 1));
  }
  const [best] = [...inARow, ...subsets.map((one) => one.entries).filter((one) => one.length > 1)];
  return best && share > 0 ? { pieces, share, entries: best, others: sets - 1 } : undefined;
}

/** What a sheet would have to make up: what is too many at one end or missing at the other, give or take one. */
function soughtPieces(lattice: Lattice, rows: readonly MovementRow[]): readonly number[] {
  const [first] = rows;
  const residual = (place: string | undefined): number =>
    lattice.cells.find((cell) => cell.place === place)?.residualPieces ?? 0;
  const sizes = rows.map(({ pieces }) => pieces).sort((a, b) => a - b);
  const least = (sizes[0] ?? 0) + (sizes[1] ?? 0);
  const most = sizes.slice(-mostEntries(rows.length)).reduce((sum, one) => sum + one, 0);
  return [
    ...new Set(
      [0 - residual(first?.from), residual(first?.to)].flatMap((one) => [one - 1, one, one + 1]),
    ),
  ].filter((pieces) => pieces >= least && pieces <= most);
}

function otherSets(count: number): string {
  if (count <= 0) return '';
  return count === 1 ? '; 1 other set fits as well' : `; ${count} other sets fit as well`;
}

/** Several entries of one sheet, recorded twice or recorded and never done, by what they sum to. */
export function ofSheets(
  lattice: Lattice,
  movements: readonly MovementRow[],
): readonly Suspicion[] {
  const byWay = Map.groupBy(movements, ({ from, to }) => `${from}\n${to}`);
  return [...byWay.values()].flatMap((rows): Suspicion[] => {
    const [first] = rows;
    if (!first || rows.length < 2) return [];
    const { from, to } = first;
    const sheets = soughtPieces(lattice, rows).flatMap((pieces) => sheetOf(rows, pieces) ?? []);
    const options = ways(
      lattice,
      'several entries together',
      sheets.map(({ pieces, share }) => ({
        value: pieces,
        adds: { [from]: -pieces, [to]: pieces },
        share,
      })),
    );
    const words = (value: number): string => {
      const sheet = sheets.find(({ pieces }) => pieces === value);
      const others = otherSets(sheet?.others ?? 0);
      return `entries ${sheet?.entries.join(', ') ?? ''} from ${placeName(from)} to ${placeName(to)}, ${value} pieces together, are recorded twice or were never done${others}`;
    };
    return [
      {
        name: `several entries from ${from} to ${to}`,
        kind: 'several entries together',
        options,
        words,
        evidence: null,
        look: lookFor(
          'several entries together',
          `sheet/${from}/${to}`,
          `Compare the entries from ${placeName(from)} to ${placeName(to)} with their papers`,
        ),
      },
    ];
  });
}
