import { z } from 'zod';
import { defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';

const name = (what: string) =>
  z
    .string(`the name of a ${what}`)
    .min(1, `the name of a ${what}`)
    .max(200, 'at most 200 characters');
const place = 'a whole number from 1 to 1000000000';
const numbered = (title: string) =>
  z.int(place).min(1, place).max(1_000_000_000, place).meta({ title });

export const pickListInput = z.strictObject({
  walk: z
    .array(
      z.strictObject({
        container: name('container').meta({ title: 'Container' }),
        melt: name('melt').optional().meta({ title: 'Melt', description: 'Absent where unknown' }),
      }),
      'a list of containers',
    )
    .min(1, 'at least one container')
    .max(100_000, 'at most 100000 containers')
    .meta({ title: 'Containers', description: 'In the order in which one walks past them' }),
  picks: z
    .array(
      z.strictObject({
        container: name('container').meta({ title: 'Container' }),
        tray: numbered('Tray').optional(),
        position: numbered('Position on the tray or in the container'),
      }),
      'a list of picks',
    )
    .min(1, 'at least one pick')
    .max(100_000, 'at most 100000 picks')
    .meta({ title: 'Picks', description: 'As the draw gives them, of one draw or of several' }),
});

export type PickListInput = z.infer<typeof pickListInput>;

const stop = z.strictObject({
  container: z.string().meta({ title: 'Container' }),
  melt: z.string().nullable().meta({ title: 'Melt', description: 'Nothing where unknown' }),
  pieces: z.int().meta({ title: 'Pieces to take here', unit: 'pieces' }),
  takenBefore: z.int().meta({ title: 'Pieces taken before', unit: 'pieces' }),
  trays: z
    .array(
      z.strictObject({
        tray: z.int().nullable().meta({ title: 'Tray', description: 'Nothing without trays' }),
        positions: z.array(z.int().meta({ title: 'Position' })).meta({ title: 'Positions' }),
      }),
    )
    .meta({ title: 'Trays' }),
});

export const pickListOutput = z.strictObject({
  stops: z.array(stop).meta({ title: 'Stops in walking order' }),
  pieces: z.int().meta({ title: 'Pieces to take', unit: 'pieces' }),
  containersPassedBy: z.int().meta({ title: 'Containers without a pick' }),
  words: z.string().meta({ title: 'In words' }),
});

export type PickListOutput = z.infer<typeof pickListOutput>;

type Pick = PickListInput['picks'][number];
type Stop = PickListOutput['stops'][number];

function requireWalk(walk: PickListInput['walk']): ReadonlySet<string> {
  const seen = new Set<string>();
  for (const [index, { container }] of walk.entries()) {
    requireDomain(!seen.has(container), {
      field: `walk.${index}.container`,
      value: container,
      accepted: 'a name that no other container of the walk has',
    });
    seen.add(container);
  }
  return seen;
}

/** The picks of each container, checked: each place once, and its container on the walk. */
function picksByContainer(input: PickListInput): ReadonlyMap<string, readonly Pick[]> {
  const known = requireWalk(input.walk);
  const places = new Set<string>();
  const byContainer = new Map<string, Pick[]>();
  for (const [index, pick] of input.picks.entries()) {
    requireDomain(known.has(pick.container), {
      field: `picks.${index}.container`,
      value: pick.container,
      accepted: 'a container that stands on the walk',
    });
    const key = JSON.stringify([pick.container, pick.tray ?? 0, pick.position]);
    requireDomain(!places.has(key), {
      field: `picks.${index}.position`,
      value: pick.position,
      accepted: 'each place once',
    });
    places.add(key);
    const here = byContainer.get(pick.container);
    if (here) here.push(pick);
    else byContainer.set(pick.container, [pick]);
  }
  return byContainer;
}

function traysOf(picks: readonly Pick[]): Stop['trays'] {
  const sorted = picks.toSorted((a, b) => (a.tray ?? 0) - (b.tray ?? 0) || a.position - b.position);
  const trays: Stop['trays'] = [];
  for (const pick of sorted) {
    const tray = pick.tray ?? null;
    const last = trays.at(-1);
    if (last && last.tray === tray) last.positions.push(pick.position);
    else trays.push({ tray, positions: [pick.position] });
  }
  return trays;
}

/**
 * List to carry along when drawn pieces are taken: each container once, in walking order, its trays
 * and positions ascending, with the pieces taken so far. It is printed for the person who walks, and
 * joins the draws of several melts to one walk.
 *
 * Formula: picks are sorted by the place of their container on the walk, then tray, then position;
 * containers without a pick are passed by.
 *
 * @param input containers in walking order, each once, with the melt where known; picks of one draw
 * or of several, each place once
 * @returns stops with trays and positions, and the number of pieces
 * @throws DomainError for a container that stands twice on the walk or not at all, or a place that
 * stands twice
 * Validity: exact; the same picks in any order give the same list.
 * Source: common practice
 * @example pickList({ walk: [{ container: 'drum 1' }, { container: 'drum 2' }], picks: [
 *   { container: 'drum 2', tray: 1, position: 7 }, { container: 'drum 2', tray: 1, position: 3 },
 * ] }).stops[0].trays[0].positions.join() // '3,7'
 */
export function pickList(input: PickListInput): PickListOutput {
  const byContainer = picksByContainer(input);
  const stops: Stop[] = [];
  let takenBefore = 0;
  for (const { container, melt } of input.walk) {
    const picks = byContainer.get(container);
    if (!picks) continue;
    const pieces = picks.length;
    stops.push({ container, melt: melt ?? null, pieces, takenBefore, trays: traysOf(picks) });
    takenBefore += pieces;
  }
  const containersPassedBy = input.walk.length - stops.length;
  const passed = containersPassedBy === 0 ? '' : ` ${containersPassedBy} are passed by.`;
  return {
    stops,
    pieces: takenBefore,
    containersPassedBy,
    words: `Take ${takenBefore} pieces at ${stops.length} of ${input.walk.length} containers.${passed}`,
  };
}

export const pickListCalculation = defineCalculation({
  id: 'pick-list',
  version: 1,
  topic: 'sampling',
  title: 'Pick list',
  purpose:
    'Puts the pieces of one draw, or of several, into walking order: container by container, tray by tray, position by position.',
  source: 'Common practice',
  input: pickListInput,
  output: pickListOutput,
  example: {
    walk: [
      { container: 'drum 3', melt: 'M-118' },
      { container: 'drum 1', melt: 'M-117' },
      { container: 'drum 2', melt: 'M-117' },
    ],
    picks: [
      { container: 'drum 1', tray: 4, position: 12 },
      { container: 'drum 1', tray: 1, position: 30 },
      { container: 'drum 1', tray: 4, position: 2 },
      { container: 'drum 3', position: 511 },
    ],
  },
  compute: pickList,
});
