import { calculationById } from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import type { Calculated } from '../../journal/calculated.ts';
import { balanceOfPlace } from '../../journal/core-books.ts';
import { defineQuestion } from '../../journal/station.ts';
import type { Json } from '../../ports/json.ts';
import { supplierFinenessOf } from '../receiving/index.ts';
import {
  instrumentsAtPlace,
  methodInForce,
  outOfUse,
  personOf,
  plantDay,
  requiredProbabilityOf,
  supplierOf,
} from '../registers/index.ts';
import { assayRuns, type ResultRow, type TrialRow, trials } from './books.ts';
import { standsByVariables } from './by-variables.ts';
import { doubtsOfMelt } from './controls/melt-doubts.ts';
import { type EvaluationFacts, evaluate } from './evaluation.ts';
import { evaluationFacts } from './evaluation-facts.ts';
import { furtherAnswer } from './further/need.ts';
import { meltFacts, type SampledMelt } from './melt-facts.ts';
import {
  determinationsOf,
  meltReturnsOf,
  resultsOf,
  rulingsOf,
  trialsAt,
} from './read-model-queries.ts';
import { pictureOf } from './result-picture.ts';
import { openStages, type Stage, stages } from './stage.ts';

const endedStages: readonly Stage[] = stages.filter((stage) => !openStages.includes(stage));

/** How many ended trials the desk still shows. */
const recentTrials = 20;

/** A melt as the desk lists it. */
async function deskLine(
  books: BookReader,
  melt: string,
  trial: TrialRow | undefined,
): Promise<Json> {
  const facts = await meltFacts(books, melt);
  if (facts.known !== 'sampled') return [];
  const { standard, order, drawn, measured } = facts;
  const forAssay = [...drawn.values()].filter((blank) => blank.forAssay);
  return {
    melt,
    consignment: facts.melt.consignment,
    pieceStandard: standard.pieceStandard,
    pieceStandardTitle: standard.title,
    metal: standard.metal,
    method: standard.assayMethod,
    stage: trial?.stage ?? 'to be measured',
    since: trial?.since ?? order.orderedAt,
    blanksDrawn: drawn.size,
    blanksForPhysical: order.physicalPieces,
    blanksMeasured: trial?.blanksMeasured ?? 0,
    blanksNonconforming: trial?.blanksNonconforming ?? 0,
    physical: trial?.physical ?? 'open',
    blanksForAssay: forAssay.map(({ blank }) => blank),
    blanksCut: [...measured.values()].filter((row) => row.cut).map((row) => row.blank),
    determinationsValid: trial?.determinationsValid ?? 0,
    verdict: trial?.verdict ?? null,
    ruling: trial?.ruling ?? null,
  };
}

const laboratoryDesk = defineQuestion({
  question: 'laboratory-desk',
  station: 'laboratory',
  input: z.strictObject({}),
  answer: async (books, _input, { instant }) => {
    const day = await plantDay(books, instant);
    const lying = (await balanceOfPlace(books, 'laboratory')).filter(
      (row) => row.pieces !== 0 || row.grossMicrograms !== 0,
    );
    const open = (await Promise.all(openStages.map((stage) => trialsAt(books, stage)))).flat();
    const untouched: string[] = [];
    for (const row of lying) {
      if (row.pieces > 0 && !(await books.get(trials, row.melt))) untouched.push(row.melt);
    }
    const ended = await Promise.all(
      endedStages.map((stage) => trialsAt(books, stage, { limit: recentTrials, descending: true })),
    );
    const recent = ended
      .flat()
      .sort((left, right) => right.since.localeCompare(left.since))
      .slice(0, recentTrials);
    return {
      waiting: await Promise.all([
        ...untouched.map((melt) => deskLine(books, melt, undefined)),
        ...open.map((row) => deskLine(books, row.melt, row)),
      ]),
      recent: await Promise.all(recent.map((row) => deskLine(books, row.melt, row))),
      instruments: (await instrumentsAtPlace(books, 'laboratory')).map((one) => ({
        ...one,
        outOfUse: outOfUse(one, day),
      })),
    };
  },
});

/** The names of the people that stand in the records, by id. */
async function namesOf(books: BookReader, ids: readonly string[]): Promise<Json> {
  const names: Record<string, string> = {};
  for (const id of new Set(ids)) names[id] = (await personOf(books, id))?.name ?? id;
  return names;
}

/** Every drawn blank with what has been done to it. */
function blanksAnswer(sampled: SampledMelt): Json {
  // Blanks by which a lot is judged by variables are measured first.
  const drawn = [...sampled.drawn.values()].toSorted(
    (one, other) => Number(other.forVariables ?? false) - Number(one.forVariables ?? false),
  );
  return drawn.map((blank) => {
    const row = sampled.measured.get(blank.blank);
    const held = sampled.held.get(blank.blank);
    return {
      blank: blank.blank,
      pick: blank.pick,
      further: blank.further ?? null,
      drum: blank.drum,
      position: blank.position,
      forAssay: blank.forAssay,
      forPhysical: blank.forPhysical,
      measurement: row?.measurement ?? null,
      corrected: row ? [...row.corrected] : [],
      cut: row?.cut ?? null,
      returned: row?.returned ?? null,
      portion: held ? { portion: held.portion, state: held.state } : null,
    };
  });
}

function physicalAnswer(sampled: SampledMelt): Json {
  const { trial, order, standard } = sampled;
  return {
    state: trial?.physical ?? 'open',
    blanksForPhysical: order.physicalPieces,
    blanksMeasured: trial?.blanksMeasured ?? 0,
    blanksNonconforming: trial?.blanksNonconforming ?? 0,
    blanksOffMass: trial?.blanksOffMass ?? 0,
    blanksBelowLeastMass: trial?.blanksBelowLeastMass ?? 0,
    acceptanceNumber: order.acceptanceNumber,
    rejectionNumber: order.rejectionNumber,
    plan: order.plan,
    byVariables: standsByVariables(sampled, []) ?? null,
    limits: {
      massLeastMilligrams: standard.massLeastMilligrams,
      massGreatestMilligrams: standard.massGreatestMilligrams,
      diameterLeastMillimetres: standard.diameterLeastMillimetres,
      diameterGreatestMillimetres: standard.diameterGreatestMillimetres,
      thicknessLeastMillimetres: standard.thicknessLeastMillimetres,
      thicknessGreatestMillimetres: standard.thicknessGreatestMillimetres,
    },
  };
}

/** The edition that governs the next run, and the cautions of method and edition, each once. */
async function methodAnswer(books: BookReader, { standard }: SampledMelt) {
  const { assayMethod, metal, finenessDeclaredPartsPerMillion: declared } = standard;
  const finenessPerMille = declared / 1000;
  const found = await methodInForce(books, { assayMethod, metal, finenessPerMille });
  const edition = found.state === 'in force' ? found.edition : null;
  const cautions = [...(calculationById(assayMethod).cautions ?? []), ...(edition?.cautions ?? [])];
  return { cautions: [...new Set(cautions)], governedBy: edition };
}

/** The limit rule of a verdict, as a figure to draw. */
function limitRuleOf(decision: Calculated): Json {
  const calculation = calculationById(decision.calculation);
  const drawn = calculation.draw?.(decision.input, decision.output) ?? [];
  const rule = drawn.find(({ kind }) => kind === 'limit-rule');
  return rule ? ({ ...rule } as unknown as Json) : null;
}

function resultAnswer(row: ResultRow): Json {
  return { ...row, limitRule: limitRuleOf(row.body.decision) };
}

/** What the result would be if it were signed now, or what is missing for one. */
function previewOf(facts: EvaluationFacts, standing: number | null): Json {
  if (standing !== null && !facts.valid.some((row) => row.entry > standing)) return null;
  const evaluation = evaluate(facts);
  if ('refusals' in evaluation) {
    return {
      state: 'incomplete',
      missing: evaluation.refusals.map(({ refusal, message, nextStep }) => ({
        refusal,
        message,
        nextStep,
      })),
    };
  }
  const { figures } = evaluation;
  return { state: 'complete', figures, limitRule: limitRuleOf(figures.decision) };
}

/** The picture of the result that would be signed now, else of the one that stands. */
function pictureAnswer(facts: EvaluationFacts, standing: ResultRow | undefined): Json {
  const evaluation = evaluate(facts);
  const isNewer = facts.valid.some((row) => !standing || row.entry > standing.result);
  const preview = isNewer && 'figures' in evaluation ? evaluation.figures : undefined;
  const figures = preview ?? standing?.body;
  const picture = figures && pictureOf(figures, facts);
  return picture ? (picture as unknown as Json) : null;
}

/**
 * The supplier's own value, once a signed result stands. Before that it is in no answer to anybody,
 * whatever his roles, so that nobody can pass it on to the one who assays.
 */
async function supplierValue(books: BookReader, sampled: SampledMelt): Promise<Json> {
  if ((sampled.trial?.result ?? null) === null) {
    return { state: 'hidden until the result is signed', finenessPerMille: null };
  }
  const stated = await supplierFinenessOf(books, sampled.melt.melt);
  return stated === undefined
    ? { state: 'none stated', finenessPerMille: null }
    : { state: 'shown', finenessPerMille: stated };
}

/** What is in doubt of all that the melt rests on, each with the hold that says why. */
async function doubtsAnswer(books: BookReader, melt: string) {
  const doubts = await doubtsOfMelt(books, melt);
  return doubts.map(({ what, entry, hold }) => ({
    what,
    entry,
    hold: hold.hold,
    words: hold.words,
  }));
}

const meltTrial = defineQuestion({
  question: 'melt-trial',
  station: 'laboratory',
  input: z.strictObject({ melt: z.string().min(1).max(40) }),
  answer: async (books, input) => {
    const facts = await meltFacts(books, input.melt);
    if (facts.known !== 'sampled') return null;
    const { melt } = facts.melt;
    const { standard, trial } = facts;
    const runs = await books.select(assayRuns, { by: 'byMelt', prefix: [melt] });
    const determinations = await determinationsOf(books, melt);
    const results = await resultsOf(books, melt);
    const evaluated = await evaluationFacts(books, facts);
    const standing = results.find((row) => row.result === trial?.result);
    const rulings = await rulingsOf(books, melt);
    const measurers = [...facts.measured.values()].map((row) => row.measurement.author);
    const others = [...runs, ...rulings].map((row) => row.author);
    const signers = results.flatMap((row) => [
      row.signer,
      ...(row.checked ? [row.checked.author] : []),
    ]);
    return {
      melt,
      consignment: facts.melt.consignment,
      supplier: facts.melt.supplier,
      supplierName: (await supplierOf(books, facts.melt.supplier))?.name ?? facts.melt.supplier,
      piecesOfMelt: facts.melt.pieces,
      pieceStandard: standard.pieceStandard,
      pieceStandardTitle: standard.title,
      metal: standard.metal,
      method: standard.assayMethod,
      finenessLimitPerMille: standard.finenessLimitPerMille,
      requiredConformanceProbability: requiredProbabilityOf(standard),
      impurityTable: standard.impurityTable ?? null,
      duplicateLimitPerMille: standard.duplicateLimitPerMille,
      ...(await methodAnswer(books, facts)),
      stage: trial?.stage ?? 'to be measured',
      since: trial?.since ?? facts.order.orderedAt,
      physical: physicalAnswer(facts),
      blanks: blanksAnswer(facts),
      further: await furtherAnswer(books, facts),
      doubts: await doubtsAnswer(books, melt),
      runs: runs.map((row) => ({ ...row })),
      determinations: determinations.map((row) => ({ ...row })),
      preview: previewOf(evaluated, trial?.result ?? null),
      picture: pictureAnswer(evaluated, standing),
      results: results.map(resultAnswer),
      supplierValue: await supplierValue(books, facts),
      rulings: rulings.map((row) => ({ ...row })),
      returns: (await meltReturnsOf(books, melt)).map((row) => ({ ...row })),
      people: await namesOf(books, [...measurers, ...others, ...signers]),
    };
  },
});

export const laboratoryQuestions = [laboratoryDesk, meltTrial] as const;
