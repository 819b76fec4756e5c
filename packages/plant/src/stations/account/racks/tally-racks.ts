import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import { type Instrument, idSchema, instrumentOf } from '../../registers/index.ts';
import type { TallyLine } from '../bodies.ts';
import { PlaceTallied } from '../entries.ts';
import { placeName } from '../place-name.ts';
import { scaleOf } from '../shift-balance.ts';
import {
  counters,
  type FoundFacts,
  foundFacts,
  foundLines,
  foundRefusals,
  talliedPlace,
  tallyLines,
} from '../tally-place.ts';
import { type RackCountRow, type RackRow, racks } from './books.ts';
import { RackCounted } from './entries.ts';
import { unknownRack } from './rack-commands.ts';
import { type RackState, rackStates } from './rack-states.ts';
import { rackRefusals } from './refusals.ts';

const station = 'account';

const countInput = z.strictObject({
  rack: idSchema.meta({ title: 'Rack', description: 'As its label says.' }),
  lines: foundLines,
});

/** Counts one rack. What its containers hold by their labels is not shown before, nor in the answer. */
const countRack = defineCommand({
  command: 'count-rack',
  station,
  title: 'Record count of rack',
  input: countInput,
  roles: counters,
  signature: 'none',
  facts: async (books, input, circumstances): Promise<FoundFacts & { rack?: RackRow }> => {
    const rack = await books.get(racks, input.rack);
    return { ...(await foundFacts(books, input.lines, circumstances)), ...(rack ? { rack } : {}) };
  },
  decide: (input, facts, circumstances): Decision => {
    if (!facts.rack) return { refusals: [unknownRack(input.rack)] };
    const refusals = foundRefusals(input.lines, facts);
    if (refusals.length > 0) return { refusals };
    const { rack, place } = facts.rack;
    const body = { rack, place, lines: [...tallyLines(input.lines, facts)] };
    return {
      entries: [draft(RackCounted, body)],
      answer: { rack, count: circumstances.nextNumber },
    };
  },
});

const tallyInput = z.strictObject({
  place: talliedPlace,
  beside: foundLines.meta({
    title: 'Beside the racks',
    description: 'What lies at the place and in none of its racks; nothing where nothing does.',
  }),
});

type TallyInput = z.infer<typeof tallyInput>;

interface TallyFacts extends FoundFacts {
  readonly racks: readonly RackState[];
  /** Balances that weighed in the counts, by id. */
  readonly scales: ReadonlyMap<string, Instrument>;
}

async function tallyFacts(
  books: BookReader,
  input: TallyInput,
  circumstances: Circumstances,
): Promise<TallyFacts> {
  const states = await rackStates(books, input.place);
  const found = await foundFacts(books, input.beside, circumstances);
  const scales = new Map<string, Instrument>();
  const lines = [...input.beside, ...states.flatMap(({ count }) => count?.lines ?? [])];
  for (const { instrument } of lines) {
    const known = instrument && (await instrumentOf(books, instrument));
    if (known) scales.set(known.instrument, known);
  }
  return { ...found, racks: states, scales };
}

function rackRefusal({ rack, count, outdatedBy }: RackState): Refusal | undefined {
  const { place } = rack;
  if (!count) {
    return refuse(rackRefusals, 'RackNotCounted', {
      message: `Rack ${rack.rack} in ${placeName(place)}, ${rack.title}, has not been counted since the last close.`,
      field: 'place',
      figures: { rack: rack.rack, place },
    });
  }
  if (outdatedBy === undefined) return undefined;
  return refuse(rackRefusals, 'RackCountOutdated', {
    message: `Rack ${rack.rack} was counted in entry ${count.entry}; entry ${outdatedBy} moved one of its containers afterwards.`,
    field: 'place',
    figures: { rack: rack.rack, place, count: count.entry, movedInEntry: outdatedBy },
  });
}

/** The coarsest of the balances: its errors are taken for those of all. */
function coarsest(lines: readonly TallyLine[], scales: TallyFacts['scales']): string | null {
  const weighed = [...new Set(lines.flatMap(({ instrument }) => instrument ?? []))];
  const errorOf = (name: string): number =>
    scaleOf(scales.get(name))?.readingStandardDeviationGrams ?? 0;
  return weighed.sort((a, b) => errorOf(b) - errorOf(a))[0] ?? null;
}

/** Lines of one piece standard added up; a mass only where every one of them that holds pieces was weighed. */
function sumOf(lines: readonly TallyLine[], scales: TallyFacts['scales']): TallyLine {
  const [first] = lines as readonly [TallyLine, ...TallyLine[]];
  const sum = (of: (line: TallyLine) => number) => lines.reduce((total, one) => total + of(one), 0);
  const isWeighed = lines.every(
    ({ pieces, grossMicrograms }) => pieces === 0 || grossMicrograms !== null,
  );
  const [only] = lines.length === 1 ? lines : [];
  if (only) return only;
  return {
    ...first,
    pieces: sum(({ pieces }) => pieces),
    // Each reading stands in the count of its rack.
    gross: null,
    instrument: isWeighed ? coarsest(lines, scales) : null,
    grossMicrograms: isWeighed ? sum(({ grossMicrograms }) => grossMicrograms ?? 0) : null,
    fineMicrograms: isWeighed ? sum(({ fineMicrograms }) => fineMicrograms ?? 0) : null,
  };
}

function decideTally(input: TallyInput, facts: TallyFacts, circumstances: Circumstances): Decision {
  if (facts.racks.length === 0) {
    const refusal = refuse(rackRefusals, 'PlaceWithoutRacks', {
      message: `There is no rack in ${placeName(input.place)}.`,
      field: 'place',
      figures: { place: input.place },
    });
    return { refusals: [refusal] };
  }
  const uncounted = facts.racks.flatMap((state) => rackRefusal(state) ?? []);
  if (uncounted.length > 0) return { refusals: uncounted };
  const refusals = foundRefusals(input.beside, facts, 'beside');
  if (refusals.length > 0) return { refusals };
  const counts = facts.racks.map(({ count }) => count as RackCountRow);
  const all = [...counts.flatMap(({ lines }) => lines), ...tallyLines(input.beside, facts)];
  const lines = [...Map.groupBy(all, ({ pieceStandard }) => pieceStandard).values()].map((of) =>
    sumOf(of, facts.scales),
  );
  const counted = counts.map(({ rack, entry, author }) => ({ rack, count: entry, author }));
  return {
    entries: [draft(PlaceTallied, { place: input.place, lines, racks: counted })],
    answer: { tally: circumstances.nextNumber, place: input.place },
  };
}

/** The tally of a place as the sum of the counts of its racks, and of what lies in none. */
const tallyRacks = defineCommand({
  command: 'tally-racks',
  station,
  title: 'Record tally from racks',
  input: tallyInput,
  roles: counters,
  signature: 'none',
  facts: tallyFacts,
  decide: decideTally,
});

export const rackTallyCommands = [countRack, tallyRacks] as const;
