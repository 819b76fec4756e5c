import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { lookOutcomes } from './bodies.ts';
import { LookTaken } from './entries.ts';
import { type PresentSearch, presentSearch, searchRefusal } from './present-search.ts';
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
});

type LookInput = z.infer<typeof lookInput>;

function decideLook(input: LookInput, present: PresentSearch | undefined): Decision {
  const refusal = searchRefusal(input.search, present);
  if (refusal || !present?.ranking) return { refusals: refusal ? [refusal] : [] };
  const look = present.ranking.looks.find((one) => one.look === input.look);
  if (!look) {
    const refused = refuse(searchRefusals, 'LookUnknown', {
      message: `Search ${input.search} names no look ${input.look}; it names ${present.ranking.looks.map((one) => one.look).join(', ') || 'none'}.`,
      field: 'look',
      figures: { search: input.search, look: input.look },
    });
    return { refusals: [refused] };
  }
  const body = {
    ...input,
    title: look.title,
    probabilityBefore: look.probability,
    seenIfThere: look.seenIfThere,
    minutes: look.minutes,
  };
  return { entries: [draft(LookTaken, body)] };
}

/** Somebody looked at a place or thing; the ranking follows at once for everybody. */
export const recordLook = defineCommand({
  command: 'record-look',
  station: 'search',
  title: 'Record look',
  input: lookInput,
  roles: ['custodian', 'inspector', 'assayer', 'die keeper', 'metal accountant', 'chief assayer'],
  signature: 'none',
  facts: (books: BookReader, input: LookInput) => presentSearch(books, input.search),
  decide: decideLook,
});
