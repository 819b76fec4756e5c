import type { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { reasonSchema } from '../registers/index.ts';
import { assayRuns, type ResultRow } from './books.ts';
import { type GatedRunFacts, gatedRuns, resultGate } from './controls/result-gate.ts';
import { ResultChecked, ResultSentBack } from './entries.ts';
import {
  type Authorisation,
  authorisationFor,
  closedTrial,
  type MeltFacts,
  meltFacts,
  notAuthorised,
  notSampled,
} from './melt-facts.ts';
import { standingResult } from './read-model-queries.ts';
import { laboratoryRefusals } from './refusals.ts';
import { meltInput } from './sign-result.ts';

const sendBackInput = meltInput.extend({ reason: reasonSchema });

interface CheckingFacts {
  readonly melt: MeltFacts;
  readonly authorisation: Authorisation | undefined;
  readonly result: ResultRow | undefined;
  /** People who recorded any run of the melt, void ones too. */
  readonly runAuthors: readonly string[];
  /** The runs that the result rests on, with what they were made with. */
  readonly gated: readonly GatedRunFacts[];
}

async function checkingFacts(
  books: BookReader,
  input: { readonly melt: string },
  { author, instant }: Circumstances,
): Promise<CheckingFacts> {
  const melt = await meltFacts(books, input.melt);
  const method = melt.known === 'sampled' ? melt.standard.assayMethod : undefined;
  const runs = await books.select(assayRuns, { by: 'byMelt', prefix: [input.melt] });
  const result = await standingResult(books, input.melt);
  const determinations = result?.body.determinations ?? [];
  return {
    melt,
    authorisation: method && (await authorisationFor(books, { person: author, method, instant })),
    result,
    runAuthors: runs.map((run) => run.author),
    gated: await gatedRuns(
      books,
      determinations.map((one) => one.assayRun),
    ),
  };
}

function resultNotOpen(melt: string, result: ResultRow | undefined): readonly Refusal[] {
  if (!result) {
    return [
      refuse(laboratoryRefusals, 'ResultNotSigned', {
        message: `Melt ${melt} has no signed result.`,
        field: 'melt',
        figures: { melt },
      }),
    ];
  }
  if (!result.checked) return [];
  return [
    refuse(laboratoryRefusals, 'ResultAlreadyChecked', {
      message: `The result of melt ${melt} was checked by ${result.checked.author} in entry ${result.checked.entry}.`,
      field: 'melt',
      figures: { melt, checker: result.checked.author, entry: result.checked.entry },
    }),
  ];
}

function tookPart(facts: CheckingFacts, { author }: Circumstances): readonly Refusal[] {
  const signed = facts.result?.signer === author.person;
  const ran = facts.runAuthors.includes(author.person);
  if (!signed && !ran) return [];
  const part = [...(ran ? ['recorded a run'] : []), ...(signed ? ['signed the result'] : [])];
  return [
    refuse(laboratoryRefusals, 'CheckerTookPart', {
      message: `${author.name} ${part.join(' and ')} of melt ${facts.result?.melt} and cannot check it.`,
      figures: { person: author.person, melt: facts.result?.melt ?? null, part },
    }),
  ];
}

/** The result that may be checked by this person now, or why not. */
function checkable(
  melt: string,
  facts: CheckingFacts,
  circumstances: Circumstances,
): { readonly result: ResultRow } | { readonly refusals: readonly Refusal[] } {
  if (facts.melt.known !== 'sampled') return { refusals: [notSampled(melt, facts.melt)] };
  const notOpen = resultNotOpen(melt, facts.result);
  const refusals = [
    ...closedTrial(facts.melt.trial),
    ...(facts.authorisation ? notAuthorised(facts.authorisation) : []),
    ...(notOpen.length > 0 ? notOpen : tookPart(facts, circumstances)),
  ];
  return refusals.length > 0 || !facts.result ? { refusals } : { result: facts.result };
}

function decideChecking(
  input: { readonly melt: string },
  facts: CheckingFacts,
  circumstances: Circumstances,
): Decision {
  const found = checkable(input.melt, facts, circumstances);
  if ('refusals' in found) return found;
  const gate = resultGate(facts.gated);
  if (gate.length > 0) return { refusals: gate };
  const { result, body } = found.result;
  return {
    entries: [draft(ResultChecked, { melt: input.melt, result })],
    answer: { melt: input.melt, result, verdict: body.verdict },
  };
}

function decideSendingBack(
  input: z.infer<typeof sendBackInput>,
  facts: CheckingFacts,
  circumstances: Circumstances,
): Decision {
  const found = checkable(input.melt, facts, circumstances);
  if ('refusals' in found) return found;
  const { melt, reason } = input;
  const { result } = found.result;
  return {
    entries: [draft(ResultSentBack, { melt, result, reason })],
    answer: { melt, result },
  };
}

/** Stands for a signed result as the second assayer. */
export const checkResult = defineCommand({
  command: 'check-result',
  station: 'laboratory',
  title: 'Check result',
  input: meltInput,
  roles: ['assayer'],
  signature: 'author',
  facts: checkingFacts,
  decide: decideChecking,
});

/** Gives a signed result back as the second assayer, with the reason. */
export const sendBackResult = defineCommand({
  command: 'send-back-result',
  station: 'laboratory',
  title: 'Send result back',
  input: sendBackInput,
  roles: ['assayer'],
  signature: 'author',
  facts: checkingFacts,
  decide: decideSendingBack,
});
