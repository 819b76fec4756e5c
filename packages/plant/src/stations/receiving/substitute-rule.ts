import type { BookReader } from '../../journal/books.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
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
import { sampleDrawnAlready, samplesNotOrdered } from './sample-refusals.ts';
import {
  drawSubstitute,
  freePlaces,
  noPlace,
  pickUnknown,
  type SubstituteInput,
  substituteInput,
} from './substitute-drawing.ts';

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
  const { place, calculated } = drawSubstitute(order.seed, free, { blank: blank.blank, time });
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
