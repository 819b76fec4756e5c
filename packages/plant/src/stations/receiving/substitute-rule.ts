import type { DrawInput, DrawOutput } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Calculated, calculate } from '../../journal/calculated.ts';
import { sha256Hex } from '../../journal/entry.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import {
  type Blank,
  blanks,
  type Drum,
  drums,
  type PickSubstitution,
  pickSubstitutions,
  type SamplingOrder,
  samplingOrders,
} from './books.ts';
import type { PickSubstitutedBody } from './pick-bodies.ts';
import { PickSubstituted } from './pick-entries.ts';
import { receivingRefusals } from './refusals.ts';
import { sampleDrawnAlready, samplesNotOrdered } from './sample-refusals.ts';

const from = ['the same drum', 'the other drums'] as const;

const substituteInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'Whose sample is being taken.' }),
  blank: idSchema.meta({ title: 'Pick', description: 'The blank that cannot be taken.' }),
  from: z.enum(from, `one of ${from.join(', ')}`).meta({
    title: 'Instead from',
    description: 'Which place is drawn; nobody chooses it.',
  }),
  reason: reasonSchema.meta({ title: 'Reason', description: 'Why the drawn blank is not taken.' }),
});

type SubstituteInput = z.infer<typeof substituteInput>;

interface SubstituteFacts {
  readonly order: SamplingOrder | undefined;
  readonly picks: readonly Blank[];
  readonly drums: readonly Drum[];
  readonly earlier: readonly PickSubstitution[];
}

async function substituteFacts(
  books: BookReader,
  { melt }: SubstituteInput,
): Promise<SubstituteFacts> {
  return {
    order: await books.get(samplingOrders, melt),
    picks: await books.select(blanks, { by: 'byMelt', prefix: [melt] }),
    drums: await books.select(drums, { by: 'byMelt', prefix: [melt] }),
    earlier: await books.select(pickSubstitutions, { prefix: [melt] }),
  };
}

type Place = PickSubstitutedBody['drawn'];

/** Places of those drums that no pick has, and none had before it was substituted. */
function freePlaces(
  among: readonly Drum[],
  taken: readonly Place[],
): readonly { readonly drum: string; readonly positions: readonly number[] }[] {
  return among.map(({ drum, pieces }) => {
    const own = new Set(
      taken.filter((place) => place.drum === drum).map(({ position }) => position),
    );
    const positions = Array.from({ length: pieces }, (_, index) => index + 1).filter(
      (position) => !own.has(position),
    );
    return { drum, positions };
  });
}

/** Draws one of the free places from the seed of the melt; each substitution of it draws anew. */
function drawSubstitute(
  order: SamplingOrder,
  free: ReturnType<typeof freePlaces>,
  at: { readonly blank: string; readonly time: number },
): { readonly place: Place; readonly calculated: Calculated } {
  const input: DrawInput = {
    seed: sha256Hex(`${order.seed} substitute ${at.blank} ${at.time}`),
    containers: free.map(({ drum, positions }) => ({ container: drum, pieces: positions.length })),
    sampleSizePieces: 1,
  };
  const { calculated, output } = calculate<DrawOutput>('draw', input);
  const [pick] = output.picks;
  const positions = free.find(({ drum }) => drum === pick?.container)?.positions ?? [];
  // The draw counts the free places of the drum; the blank lies at the place so counted.
  const position = positions[(pick?.position ?? 1) - 1] ?? 0;
  return { place: { drum: pick?.container ?? '', position }, calculated };
}

function pickUnknown({ melt, blank }: SubstituteInput): Refusal {
  return refuse(receivingRefusals, 'PickUnknown', {
    message: `${blank} is no pick of melt ${melt}.`,
    field: 'blank',
    figures: { melt, blank },
  });
}

function noPlace(input: SubstituteInput, { drum }: Blank): Refusal {
  const { blank } = input;
  return refuse(receivingRefusals, 'NoPlaceForSubstitute', {
    message: `No place is left for ${blank} in ${input.from === 'the same drum' ? `drum ${drum}` : 'the other drums of its melt'}.`,
    field: 'from',
    figures: { blank, drum, from: input.from },
  });
}

function decideSubstitute(input: SubstituteInput, facts: SubstituteFacts): Decision {
  const { order, picks } = facts;
  if (!order) return { refusals: [samplesNotOrdered(input.melt)] };
  if (order.drawnEntry !== null) return { refusals: [sampleDrawnAlready(order)] };
  const blank = picks.find((pick) => pick.blank === input.blank);
  if (!blank) return { refusals: [pickUnknown(input)] };
  const isSame = input.from === 'the same drum';
  const among = facts.drums.filter(
    ({ drum, state }) => state !== 'returned' && (drum === blank.drum) === isSame,
  );
  const taken = [...picks, ...order.blanks, ...facts.earlier.map(({ substitute }) => substitute)];
  const free = freePlaces(among, taken).filter(({ positions }) => positions.length > 0);
  if (free.length === 0) return { refusals: [noPlace(input, blank)] };
  const time = facts.earlier.filter((row) => row.blank === blank.blank).length + 1;
  const { place, calculated } = drawSubstitute(order, free, { blank: blank.blank, time });
  const body: PickSubstitutedBody = {
    consignment: order.consignment,
    melt: input.melt,
    blank: blank.blank,
    pick: blank.pick,
    drawn: { drum: blank.drum, position: blank.position },
    substitute: place,
    draw: calculated,
    reason: input.reason,
  };
  const answer = { blank: blank.blank, drum: place.drum, position: place.position };
  return { entries: [draft(PickSubstituted, body)], answer };
}

/** Another blank in the place of one that was drawn and cannot be taken; its place is drawn as well. */
export const substitutePick = defineCommand({
  command: 'substitute-pick',
  station: 'receiving',
  title: 'Substitute a pick',
  input: substituteInput,
  roles: ['inspector'],
  signature: 'author',
  facts: substituteFacts,
  decide: decideSubstitute,
});
