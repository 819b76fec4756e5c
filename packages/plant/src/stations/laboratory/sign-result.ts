import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Circumstances, type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema } from '../registers/index.ts';
import type { ResultSigned as ResultSignedBody } from './bodies.ts';
import { assayRuns, type DeterminationRow, type ResultRow, type TrialRow } from './books.ts';
import {
  editionsOf,
  type GatedRunFacts,
  gatedRuns,
  outsideEdition,
  resultGate,
} from './controls/result-gate.ts';
import { ResultSigned } from './entries.ts';
import { evaluate } from './evaluation.ts';
import { contentsOf } from './impurities/check.ts';
import {
  type Authorisation,
  authorisationFor,
  closedTrial,
  type MeltFacts,
  meltFacts,
  notAuthorised,
  notSampled,
} from './melt-facts.ts';
import { determinationsOf, resultsOf } from './read-model-queries.ts';
import { laboratoryRefusals } from './refusals.ts';
import { isOpenForAssay } from './stage.ts';

export const meltInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt that is on trial.' }),
});

interface SigningFacts {
  readonly melt: MeltFacts;
  readonly authorisation: Authorisation | undefined;
  readonly determinations: readonly DeterminationRow[];
  readonly runAuthors: readonly string[];
  /** The runs of the valid determinations, with what they were made with. */
  readonly gated: readonly GatedRunFacts[];
  /** The newest result of the melt, whatever became of it. */
  readonly newest: ResultRow | undefined;
}

async function signingFacts(
  books: BookReader,
  input: { readonly melt: string },
  { author, instant }: Circumstances,
): Promise<SigningFacts> {
  const melt = await meltFacts(books, input.melt);
  const method = melt.known === 'sampled' ? melt.standard.assayMethod : undefined;
  const runs = await books.select(assayRuns, { by: 'byMelt', prefix: [input.melt] });
  const determinations = await determinationsOf(books, input.melt);
  const counted = determinations.filter((row) => row.state === 'valid');
  return {
    melt,
    authorisation: method && (await authorisationFor(books, { person: author, method, instant })),
    determinations,
    gated: await gatedRuns(
      books,
      counted.map((row) => row.assayRun),
    ),
    runAuthors: [...new Set(runs.map((run) => run.author))].sort(),
    newest: (await resultsOf(books, input.melt)).at(-1),
  };
}

/** A result may take the place of one that stands only if it rests on further determinations. */
function standsAlready(
  trial: TrialRow | undefined,
  valid: readonly DeterminationRow[],
): readonly Refusal[] {
  if (!trial || trial.result === null) return [];
  const standing = trial.result;
  if (isOpenForAssay(trial) && valid.some((row) => row.entry > standing)) return [];
  return [
    refuse(laboratoryRefusals, 'ResultAlreadySigned', {
      message: `The result of melt ${trial.melt} was signed in entry ${standing}; its verdict is: ${trial.verdict}.`,
      field: 'melt',
      figures: { melt: trial.melt, result: standing, verdict: trial.verdict },
    }),
  ];
}

/** Why a newer result takes the place of an older one. */
function reasonToSignAgain(earlier: ResultRow): string {
  if (earlier.sentBack) return `Sent back: ${earlier.sentBack.reason}`;
  if (earlier.body.verdict === 'undecided') {
    return 'Further determinations after an undecided verdict.';
  }
  const impurities = earlier.body.impurities?.output['state'] ?? 'within';
  return impurities === 'within' || impurities === 'beyond'
    ? 'Further determinations while the melt was held.'
    : 'Further determinations after impurities that were undecided.';
}

function signedDetermination(row: DeterminationRow): ResultSignedBody['determinations'][number] {
  const { place: _place, state: _state, discarded: _discarded, melt: _melt, ...signed } = row;
  return signed;
}

function decideSigning(input: { readonly melt: string }, facts: SigningFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const valid = facts.determinations.filter((row) => row.state === 'valid');
  const refusals = [
    ...closedTrial(sampled.trial),
    ...(facts.authorisation ? notAuthorised(facts.authorisation) : []),
    ...standsAlready(sampled.trial, valid),
    ...resultGate(facts.gated),
  ];
  if (refusals.length > 0) return { refusals };
  const { standard, order } = sampled;
  const editions = editionsOf(facts.gated);
  const evaluation = evaluate({
    melt: input.melt,
    standard,
    blanksForAssay: order.assayPieces,
    valid,
    contents: contentsOf(
      facts.gated.map(({ run }) => run),
      valid,
    ),
    editions,
  });
  if ('refusals' in evaluation) return evaluation;
  const { figures } = evaluation;
  const outside = outsideEdition(input.melt, figures, editions);
  if (outside.length > 0) return { refusals: outside };
  const body: ResultSignedBody = {
    melt: input.melt,
    pieceStandard: standard.pieceStandard,
    method: standard.assayMethod,
    determinations: valid.map(signedDetermination),
    runAuthors: [...facts.runAuthors],
    ...figures,
    supersedes: facts.newest?.result ?? null,
    ...(editions.length > 0
      ? { editions: editions.map(({ method, edition }) => ({ method, edition })) }
      : {}),
  };
  const more = facts.newest
    ? { corrects: facts.newest.result, reason: reasonToSignAgain(facts.newest) }
    : {};
  return {
    entries: [draft(ResultSigned, body, more)],
    answer: {
      melt: input.melt,
      finenessPerMille: figures.finenessPerMille,
      standardUncertaintyPerMille: figures.standardUncertaintyPerMille,
      verdict: figures.verdict,
    },
  };
}

/** Signs the fineness of a melt with its uncertainty. */
export const signResult = defineCommand({
  command: 'sign-result',
  station: 'laboratory',
  title: 'Sign result',
  input: meltInput,
  roles: ['assayer'],
  signature: 'author',
  facts: signingFacts,
  decide: decideSigning,
});
