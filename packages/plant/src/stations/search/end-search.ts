import { z } from 'zod';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import { searchEnds } from './bodies.ts';
import { SearchEnded } from './entries.ts';
import { type FaultKind, faultKindNames } from './fault-kinds.ts';
import {
  type PresentSearch,
  presentSearch,
  searchInHand,
  searchRefusal,
} from './present-search.ts';
import type { RankedFault, Ranking } from './ranking.ts';
import { searchRefusals } from './refusals.ts';

const endInput = z.strictObject({
  search: idSchema.meta({ title: 'Search' }),
  end: z.enum(searchEnds, `one of ${searchEnds.join(', ')}`).meta({ title: 'End' }),
  cause: z
    .string('the name of the suspicion, or nothing')
    .max(300, 'at most 300 characters')
    .nullable()
    .meta({
      title: 'Cause',
      description: 'The suspicion that was proved, as the search names it.',
    }),
  kind: z
    .enum(faultKindNames, `one of ${faultKindNames.join(', ')}, or nothing`)
    .nullable()
    .meta({ title: 'Kind of fault', description: 'Where the search did not name the cause.' }),
  proof: z
    .string('a sentence of at least 10 characters')
    .trim()
    .min(10, 'a sentence of at least 10 characters')
    .max(2000, 'at most 2000 characters')
    .meta({ title: 'Proof', description: 'What was found, where, and by whom.' }),
});

type EndInput = z.infer<typeof endInput>;

function causeRefusal(input: EndInput, ranking: Ranking): Refusal | undefined {
  if (input.end === 'left unresolved') return undefined;
  if (input.cause === null && input.kind === null) {
    return refuse(searchRefusals, 'CauseNotStated', {
      message: `Search ${input.search} is to end with a confirmed cause, and neither a cause nor a kind is stated.`,
      field: 'kind',
      figures: { search: input.search },
    });
  }
  if (input.cause === null || ranking.faults.some(({ name }) => name === input.cause)) {
    return undefined;
  }
  return refuse(searchRefusals, 'CauseUnknown', {
    message: `Search ${input.search} names no suspicion ${input.cause}.`,
    field: 'cause',
    figures: { search: input.search, cause: input.cause },
  });
}

/** The most probable option of the suspicion that was proved. */
function provedFault(input: EndInput, ranking: Ranking): RankedFault | undefined {
  if (input.end === 'left unresolved') return undefined;
  return ranking.faults.find(({ name }) => name === input.cause);
}

function kindOf(input: EndInput, fault: RankedFault | undefined): FaultKind | null {
  if (input.end === 'left unresolved') return null;
  return fault?.kindName ?? input.kind;
}

function decideEnd(input: EndInput, present: PresentSearch | undefined): Decision {
  const refusal = searchRefusal(input.search, present);
  if (refusal || !present?.ranking) return { refusals: refusal ? [refusal] : [] };
  const { ranking, row } = present;
  const unfit = causeRefusal(input, ranking);
  if (unfit) return { refusals: [unfit] };
  const fault = provedFault(input, ranking);
  const body = {
    search: input.search,
    end: input.end,
    cause: fault?.name ?? null,
    kind: kindOf(input, fault),
    proof: input.proof,
    probabilityPredicted: fault?.probability ?? null,
    rankPredicted: fault ? ranking.faults.indexOf(fault) + 1 : null,
    minutesLooked: row.minutesLooked,
    rankedAfter: present.rankedAfter,
  };
  return { entries: [draft(SearchEnded, body)] };
}

/** Ends a search: with a cause that is proved, or left unresolved. */
export const endSearch = defineCommand({
  command: 'end-search',
  station: 'search',
  title: 'End search',
  input: endInput,
  roles: ['metal accountant', 'chief assayer'],
  signature: 'author and witness',
  witnessRoles: ['custodian', 'inspector', 'assayer', 'metal accountant', 'chief assayer'],
  prepare: (books, input, calculate) => presentSearch(books, input.search, calculate),
  facts: (books, input, _circumstances, prepared) => searchInHand(books, input.search, prepared),
  decide: decideEnd,
});
