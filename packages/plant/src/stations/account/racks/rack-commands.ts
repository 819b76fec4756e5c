import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import { insidePlaces } from '../../../journal/place.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft, type Role } from '../../../journal/station.ts';
import { idSchema, titleSchema } from '../../registers/index.ts';
import { placeName, whereItIs } from '../place-name.ts';
import { type RackRow, racks } from './books.ts';
import { type Container, containerOf, contentOfRack } from './container.ts';
import { ContainersPutAway, RackChecked, RackOpened } from './entries.ts';
import { rackRefusals } from './refusals.ts';

const station = 'account';
const keepers: readonly Role[] = ['custodian', 'metal accountant', 'chief assayer'];

const rackField = idSchema.meta({ title: 'Rack', description: 'As its label says.' });

const containersField = (least: number, title: string) =>
  z
    .array(idSchema.meta({ title: 'Label' }), 'a list of scanned labels')
    .min(least, 'at least one scanned label')
    .max(500, 'at most 500 scanned labels')
    .meta({ title, description: 'Scanned one after the other.' });

/** Refuses a rack that is not opened. */
export function unknownRack(rack: string): Refusal {
  return refuse(rackRefusals, 'RackUnknown', {
    message: `No rack is called ${rack}.`,
    field: 'rack',
    figures: { rack },
  });
}

/** Names a rack inside a place. */
const openRack = defineCommand({
  command: 'open-rack',
  station,
  title: 'Open rack',
  input: z.strictObject({
    rack: rackField,
    place: z
      .enum(insidePlaces, `one of ${insidePlaces.join(', ')}`)
      .meta({ title: 'Place', description: 'Where it stands.' }),
    title: titleSchema.meta({ title: 'Title', description: 'Such as: north wall, lower shelf.' }),
  }),
  roles: ['metal accountant', 'chief assayer'],
  signature: 'none',
  facts: async (books, input) => books.get(racks, input.rack),
  decide: (input, known): Decision => {
    if (!known) return { entries: [draft(RackOpened, input)], answer: { rack: input.rack } };
    return {
      refusals: [
        refuse(rackRefusals, 'RackAlreadyOpened', {
          message: `Rack ${known.rack} stands in ${placeName(known.place)} since entry ${known.entry}.`,
          field: 'rack',
          figures: { rack: known.rack, place: known.place, entry: known.entry },
        }),
      ],
    };
  },
});

const putAwayInput = z.strictObject({
  rack: rackField,
  containers: containersField(1, 'Containers'),
});

type PutAwayInput = z.infer<typeof putAwayInput>;

interface PutAwayFacts {
  readonly rack: RackRow | undefined;
  readonly containers: readonly (Container | undefined)[];
}

async function putAwayFacts(books: BookReader, input: PutAwayInput): Promise<PutAwayFacts> {
  return {
    rack: await books.get(racks, input.rack),
    containers: await Promise.all(input.containers.map((one) => containerOf(books, one))),
  };
}

function elsewhere(input: PutAwayInput, facts: PutAwayFacts): readonly Refusal[] {
  const here = facts.rack?.place ?? '';
  return input.containers.flatMap((container, index) => {
    const place = facts.containers[index]?.place ?? null;
    if (place === here) return [];
    return refuse(rackRefusals, 'ContainerElsewhere', {
      message: place
        ? `${container} ${whereItIs(place)}; rack ${input.rack} stands in ${placeName(here)}.`
        : `No entry moved a container with the label ${container} from place to place.`,
      field: `containers.${index}`,
      figures: { container, place, rackPlace: here },
    });
  });
}

function repeated(containers: readonly string[]): readonly Refusal[] {
  return containers.flatMap((container, index) =>
    containers.indexOf(container) === index
      ? []
      : refuse(rackRefusals, 'ContainerNamedTwice', {
          message: `${container} was scanned twice.`,
          field: `containers.${index}`,
          figures: { container },
        }),
  );
}

/** Puts containers into a rack of the place where they lie. */
const putAway = defineCommand({
  command: 'put-away',
  station,
  title: 'Put containers away',
  input: putAwayInput,
  roles: keepers,
  signature: 'none',
  facts: putAwayFacts,
  decide: (input, facts): Decision => {
    if (!facts.rack) return { refusals: [unknownRack(input.rack)] };
    const refusals = [...elsewhere(input, facts), ...repeated(input.containers)];
    if (refusals.length > 0) return { refusals };
    const containers = facts.containers.flatMap((one) =>
      one ? { thing: one.thing, container: one.container } : [],
    );
    return {
      entries: [draft(ContainersPutAway, { ...input, place: facts.rack.place, containers })],
      answer: { rack: input.rack, containers: input.containers.length },
    };
  },
});

const checkInput = z.strictObject({ rack: rackField, found: containersField(0, 'Found') });

/** Compares what was scanned in a rack with what should lie there. */
const checkRack = defineCommand({
  command: 'check-rack',
  station,
  title: 'Check rack',
  input: checkInput,
  roles: [...keepers, 'inspector'],
  signature: 'author',
  facts: async (books, input) => {
    const rack = await books.get(racks, input.rack);
    return { rack, content: rack ? await contentOfRack(books, rack) : [] };
  },
  decide: (input, { rack, content }): Decision => {
    if (!rack) return { refusals: [unknownRack(input.rack)] };
    const twice = repeated(input.found).map((one) => ({
      ...one,
      field: one.field?.replace('containers', 'found') ?? 'found',
    }));
    if (twice.length > 0) return { refusals: twice };
    const wanted = content.map(({ container }) => container);
    const missing = wanted.filter((container) => !input.found.includes(container));
    const strange = input.found.filter((container) => !wanted.includes(container));
    return {
      entries: [draft(RackChecked, { ...input, place: rack.place, missing, strange })],
      answer: { rack: input.rack, agrees: missing.length + strange.length === 0 },
    };
  },
});

export const rackCommands = [openRack, putAway, checkRack] as const;
