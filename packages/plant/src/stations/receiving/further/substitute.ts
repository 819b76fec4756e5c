import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import {
  drawSubstitute,
  freePlaces,
  noPlace,
  pickUnknown,
  type SubstituteInput,
  substituteInput,
} from '../substitute-drawing.ts';
import type { FurtherPickSubstitutedBody } from './bodies.ts';
import { FurtherPickSubstituted } from './entries.ts';
import { notDrawn, openRound, picksOf, type RoundFacts, roundFacts } from './round-facts.ts';

function decideSubstitute(input: SubstituteInput, facts: RoundFacts): Decision {
  const open = openRound(input.melt, facts);
  if ('refusal' in open) return { refusals: [open.refusal] };
  const { round } = open;
  if (!round.drawn) return { refusals: [notDrawn(round)] };
  const picks = picksOf(facts, round);
  const pick = picks.find(({ blank }) => blank === input.blank);
  if (!pick) return { refusals: [pickUnknown(input)] };
  const isSame = input.from === 'the same drum';
  const among = facts.drums.filter(({ drum }) => (drum === pick.drum) === isSame);
  const earlier = round.substitutions.map(({ substitute }) => substitute);
  const taken = [...picks, ...round.drawn.blanks, ...earlier];
  const free = freePlaces(among, taken).filter(({ positions }) => positions.length > 0);
  if (free.length === 0) return { refusals: [noPlace(input, pick)] };
  const time = round.substitutions.filter(({ blank }) => blank === pick.blank).length + 1;
  const at = { blank: pick.blank, time };
  const { place, calculated } = drawSubstitute(round.drawn.seed, free, at);
  const body: FurtherPickSubstitutedBody = {
    consignment: round.consignment,
    melt: input.melt,
    round: round.round,
    blank: pick.blank,
    pick: pick.pick,
    drawn: { drum: pick.drum, position: pick.position },
    substitute: place,
    draw: calculated,
    reason: input.reason,
  };
  return {
    entries: [draft(FurtherPickSubstituted, body)],
    answer: { blank: pick.blank, ...place },
  };
}

/** Another blank in the place of a further one that cannot be taken; its place is drawn as well. */
export const substituteFurtherPick = defineCommand({
  command: 'substitute-further-pick',
  station: 'receiving',
  title: 'Substitute a further pick',
  input: substituteInput,
  roles: ['inspector'],
  signature: 'author',
  facts: async (books, { melt }) => roundFacts(books, melt),
  decide: decideSubstitute,
});
