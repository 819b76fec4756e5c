import { z } from 'zod';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { type LookTaken as LookTakenBody, lookOutcomes } from './bodies.ts';
import { LookTaken } from './entries.ts';
import { falseSightingProbability } from './fault-kinds.ts';
import { findings } from './findings.ts';
import { standsAsFound } from './look-evidence.ts';
import {
  type PresentSearch,
  presentSearch,
  searchInHand,
  searchRefusal,
} from './present-search.ts';
import type { RankedLook } from './ranked-looks.ts';
import { searchRefusals } from './refusals.ts';

const lookInput = z.strictObject({
  search: idSchema.meta({ title: 'Search' }),
  look: z
    .string('the look as the search names it')
    .min(1, 'the look as the search names it')
    .max(200, 'at most 200 characters')
    .meta({ title: 'Look', description: 'As the search names it.' }),
  outcome: z.enum(lookOutcomes, `one of ${lookOutcomes.join(', ')}`).meta({ title: 'Outcome' }),
  words: z
    .string('a few words, or nothing')
    .trim()
    .max(2000, 'at most 2000 characters')
    .meta({ title: 'What was seen' }),
  finding: z
    .enum(findings, `one of ${findings.join(', ')}, or left out`)
    .exactOptional()
    .meta({ title: 'Found', description: 'As what it was found; left out where that is open.' }),
  mistaken: z
    .int('the number of an entry, or left out')
    .min(1, 'the number of an entry, or left out')
    .exactOptional()
    .meta({
      title: 'Mistaken look',
      description: 'The entry of another person who found something where nothing is after all.',
    }),
});

type LookInput = z.infer<typeof lookInput>;

function unknownLook(input: LookInput, looks: readonly RankedLook[]): Refusal {
  return refuse(searchRefusals, 'LookUnknown', {
    message: `Search ${input.search} names no look ${input.look}; it names ${looks.map((one) => one.look).join(', ') || 'none'}.`,
    field: 'look',
    figures: { search: input.search, look: input.look },
  });
}

/** Why the finding cannot be what this look found, if so. */
function findingRefusal(input: LookInput, look: RankedLook): Refusal | undefined {
  const { finding, outcome } = input;
  if (!finding || (outcome === 'found' && look.findings.includes(finding))) return undefined;
  const why =
    outcome === 'found'
      ? `It can show: ${look.findings.join(', ')}.`
      : 'Nothing was found, as the outcome says.';
  return refuse(searchRefusals, 'FindingNotPossible', {
    message: `${look.title} cannot have found ${finding}. ${why}`,
    field: 'finding',
    figures: { look: input.look, finding, outcome, possible: [...look.findings] },
  });
}

/** Why the look cannot say that another one was mistaken, if so. */
function mistakenRefusal(
  input: LookInput,
  present: PresentSearch,
  person: string,
): Refusal | undefined {
  const { search, look, mistaken, outcome } = input;
  if (mistaken === undefined) return undefined;
  const field = 'mistaken';
  const earlier = present.looks.find(
    (one) => one.entry === mistaken && one.look === look && standsAsFound(one),
  );
  if (!earlier) {
    return refuse(searchRefusals, 'SightingUnknown', {
      message: `Entry ${mistaken} is no look of search ${search} that found something at ${look} and still stands.`,
      field,
      figures: { search, look, entry: mistaken },
    });
  }
  if (outcome === 'found') {
    return refuse(searchRefusals, 'SightingUpheld', {
      message: `Something was found at ${look} again, so that the look of entry ${mistaken} was not mistaken.`,
      field,
      figures: { look, entry: mistaken },
    });
  }
  if (earlier.author !== person) return undefined;
  return refuse(searchRefusals, 'SightingByOneself', {
    message: `${person} recorded the look of entry ${mistaken} himself; another person has to look there.`,
    field,
    figures: { entry: mistaken, person },
  });
}

function bodyOf(input: LookInput, look: RankedLook, rankedAfter: number): LookTakenBody {
  return {
    ...input,
    rankedAfter,
    title: look.title,
    probabilityBefore: look.probability,
    seenIfThere: look.seenIfThere,
    minutes: look.minutes,
    ...(input.outcome === 'found' ? { falseSightingProbability } : {}),
  };
}

function decideLook(
  input: LookInput,
  present: PresentSearch | undefined,
  { author }: Circumstances,
): Decision {
  const refusal = searchRefusal(input.search, present);
  if (refusal || !present?.ranking) return { refusals: refusal ? [refusal] : [] };
  const look = present.ranking.looks.find((one) => one.look === input.look);
  if (!look) return { refusals: [unknownLook(input, present.ranking.looks)] };
  const unfit = findingRefusal(input, look) ?? mistakenRefusal(input, present, author.person);
  if (unfit) return { refusals: [unfit] };
  const { mistaken, words } = input;
  const corrects =
    mistaken === undefined
      ? {}
      : { corrects: mistaken, reason: words || 'Nothing is there after all.' };
  return { entries: [draft(LookTaken, bodyOf(input, look, present.rankedAfter), corrects)] };
}

/** Somebody looked at a place or thing; the ranking follows at once for everybody. */
export const recordLook = defineCommand({
  command: 'record-look',
  station: 'search',
  title: 'Record look',
  input: lookInput,
  roles: ['custodian', 'inspector', 'assayer', 'die keeper', 'metal accountant', 'chief assayer'],
  signature: 'none',
  prepare: (books, input, calculate) => presentSearch(books, input.search, calculate),
  facts: (books, input, _circumstances, prepared) => searchInHand(books, input.search, prepared),
  decide: decideLook,
});
