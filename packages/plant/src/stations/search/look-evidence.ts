import type { FaultModel } from '@cupel/calculation';
import type { LookRow } from './books.ts';
import { falseSightingProbability } from './fault-kinds.ts';
import { findingsOf } from './findings.ts';
import type { Cell } from './search-facts.ts';
import type { Suspicion } from './suspicion.ts';

/** Whether a look found something and nobody has said since that nothing is there after all. */
export const standsAsFound = ({ outcome, mistakenIn }: LookRow): boolean =>
  outcome === 'found' && mistakenIn == null;

/** The chance that looks in vain leave of what they looked for. */
function leftAfterLooks(suspicion: Suspicion, taken: readonly LookRow[]): number {
  return taken
    .filter(({ look, outcome }) => look === suspicion.look.look && outcome === 'nothing found')
    .reduce((left, { seenIfThere }) => left * (1 - seenIfThere), 1);
}

/** Suspicions with the weight that looks in vain have left them. */
export function afterVainLooks(
  suspicions: readonly Suspicion[],
  taken: readonly LookRow[],
): readonly Suspicion[] {
  if (taken.length === 0) return suspicions;
  return suspicions.map((suspicion) => {
    const left = leftAfterLooks(suspicion, taken);
    return left === 1
      ? suspicion
      : {
          ...suspicion,
          options: suspicion.options.map((option) => ({ ...option, weight: option.weight * left })),
        };
  });
}

type Option = Suspicion['options'][number];

/**
 * Whether what was found there has been counted or weighed anew since: then the figures hold it already, and
 * it is no evidence of a second fault like it.
 */
function isOvertaken(
  suspicion: Suspicion,
  option: Option,
  of: { readonly look: LookRow; readonly cells: readonly Cell[] },
): boolean {
  if ((suspicion.since ?? 0) > of.look.entry) return true;
  const shown = of.cells.filter((_, at) => option.signature[at] !== 0);
  return shown.length > 0 && shown.every(({ tally }) => tally > of.look.entry);
}

/** What a look can have found of one suspicion. */
function shownBy(look: LookRow, suspicion: Suspicion, cells: readonly Cell[]) {
  const { name, kind } = suspicion;
  const { finding, seenIfThere } = look;
  const values = suspicion.options
    .filter((option) => !finding || findingsOf(kind, option.value).includes(finding))
    .filter((option) => !isOvertaken(suspicion, option, { look, cells }))
    .map(({ value }) => value);
  return [...new Set(values)].map((value) => ({ name, value, seenIfThere }));
}

/** So many sightings at one place are weighed, the newest: more would change nothing. */
const mostAtOnePlace = 6;

/** So many are weighed in all. */
const mostSightings = 40;

/** The looks that found something, as the posterior weighs them. */
export function sightingsOf(
  suspicions: readonly Suspicion[],
  taken: readonly LookRow[],
  cells: readonly Cell[],
): NonNullable<FaultModel['sightings']> {
  const found = taken.filter(standsAsFound);
  if (found.length === 0) return [];
  const suspected = Map.groupBy(suspicions, ({ look }) => look.look);
  const byLook = Map.groupBy(found, ({ look }) => look);
  return [...byLook.values()]
    .flatMap((looks) => looks.slice(-mostAtOnePlace))
    .flatMap((look) => {
      const shows = (suspected.get(look.look) ?? []).flatMap((one) => shownBy(look, one, cells));
      const chance = look.falseSightingProbability ?? falseSightingProbability;
      return shows.length > 0 ? [{ falseSightingProbability: chance, shows }] : [];
    })
    .slice(-mostSightings);
}

/** Everything that a look can find, by what is suspected there. */
export function findingsAt(suspicions: readonly Suspicion[]) {
  const found = suspicions.flatMap(({ kind, options }) =>
    options.flatMap(({ value }) => findingsOf(kind, value)),
  );
  return [...new Set(found)].sort();
}
