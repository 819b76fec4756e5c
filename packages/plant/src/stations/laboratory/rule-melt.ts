import { z } from 'zod';
import type { BookReader } from '../../journal/books.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../journal/station.ts';
import { idSchema, reasonSchema } from '../registers/index.ts';
import { type MeltRuled as MeltRuledBody, type Ruling, rulings } from './bodies.ts';
import type { DeterminationRow, ResultRow, TrialRow } from './books.ts';
import {
  type HeldMeasurement,
  heldMeasurements,
  measurementGate,
} from './controls/measurement-gate.ts';
import { type GatedRunFacts, gatedRuns, resultGate } from './controls/result-gate.ts';
import { MeltRuled } from './entries.ts';
import { findingGate, type HeldFinding, heldFindings } from './examination/examination-gate.ts';
import { impurityGate } from './impurities/gate.ts';
import { judgeWhenRefused } from './lot-outcome.ts';
import {
  closedTrial,
  type MeltFacts,
  meltFacts,
  notSampled,
  type SampledMelt,
} from './melt-facts.ts';
import { determinationsOf, standingResult } from './read-model-queries.ts';
import { laboratoryRefusals } from './refusals.ts';
import { screeningGate } from './screening/answer-screening.ts';
import type { ScreeningRow } from './screening/books.ts';
import { openScreenings } from './screening/entries.ts';

const ruleInput = z.strictObject({
  melt: idSchema.meta({ title: 'Melt', description: 'The melt to rule on.' }),
  ruling: z.enum(rulings, `one of ${rulings.join(', ')}`).meta({
    title: 'Ruling',
    description: 'A concession covers dimensions only: never fineness, least mass or count.',
  }),
  reason: reasonSchema,
});

interface RulingFacts {
  readonly melt: MeltFacts;
  /** The result that two assayers stand for. */
  readonly checked: ResultRow | undefined;
  readonly determinations: readonly DeterminationRow[];
  /** The runs that the checked result rests on, with what they were made with. */
  readonly gated: readonly GatedRunFacts[];
  readonly measurementsHeld: readonly HeldMeasurement[];
  /** Hardness, grain size, edges and screenings in doubt. */
  readonly findingsHeld: readonly HeldFinding[];
  /** Screenings that deviate and that nobody has answered. */
  readonly screeningsOpen: readonly ScreeningRow[];
}

async function rulingFacts(
  books: BookReader,
  input: { readonly melt: string },
): Promise<RulingFacts> {
  const result = await standingResult(books, input.melt);
  const melt = await meltFacts(books, input.melt);
  const runs = (result?.body.determinations ?? []).map((one) => one.assayRun);
  const measured = melt.known === 'sampled' ? [...melt.measured.values()] : [];
  return {
    melt,
    checked: result?.checked ? result : undefined,
    determinations: await determinationsOf(books, input.melt),
    gated: await gatedRuns(books, runs),
    measurementsHeld: await heldMeasurements(books, measured),
    findingsHeld: await heldFindings(books, input.melt),
    screeningsOpen: await openScreenings(books, input.melt),
  };
}

/** What the measured blanks say; nothing is measured before the first entry. */
function physicalOf(sampled: SampledMelt): MeltRuledBody['physical'] {
  const { trial, order } = sampled;
  return {
    state: trial?.physical ?? 'open',
    blanksForPhysical: order.physicalPieces,
    blanksMeasured: trial?.blanksMeasured ?? 0,
    blanksNonconforming: trial?.blanksNonconforming ?? 0,
    acceptanceNumber: order.acceptanceNumber,
    rejectionNumber: order.rejectionNumber,
  };
}

/** Which ruling may follow which: a melt can be held at any time until it has gone back. */
function cannotFollow(ruling: Ruling, trial: TrialRow | undefined): readonly Refusal[] {
  const stands = trial?.ruling;
  if (!trial || (!stands && trial.returned === null)) return [];
  if (trial.returned === null && stands === ruling) {
    return [
      refuse(laboratoryRefusals, 'RulingUnchanged', {
        message: `The ruling on melt ${trial.melt} is ${ruling} already, since ${trial.since.slice(0, 10)}.`,
        field: 'ruling',
        figures: { melt: trial.melt, ruling, since: trial.since },
      }),
    ];
  }
  const isReleased = stands === 'release' || stands === 'concession';
  const isOpen =
    trial.returned === null && (ruling === 'hold' || (isReleased && ruling === 'refuse'));
  return isOpen ? [] : closedTrial(trial);
}

/** What a melt must have before it may be struck: a checked result of all that was determined. */
function resultMissing(melt: string, facts: RulingFacts): readonly Refusal[] {
  const { checked } = facts;
  const newer = facts.determinations.filter(
    (row) => row.state === 'valid' && checked && row.entry > checked.result,
  );
  if (checked && newer.length === 0) return [];
  return [
    refuse(laboratoryRefusals, 'ResultNotChecked', {
      message: checked
        ? `Melt ${melt} has ${newer.length} determinations newer than its result of entry ${checked.result}.`
        : `Melt ${melt} has no result that is signed and checked.`,
      field: 'melt',
      figures: { melt, result: checked?.result ?? null, newerDeterminations: newer.length },
    }),
  ];
}

function finenessAgainst(melt: string, facts: RulingFacts): readonly Refusal[] {
  const missing = resultMissing(melt, facts);
  if (missing.length > 0 || !facts.checked) return missing;
  const { verdict, scope, finenessPerMille, standardUncertaintyPerMille, method, decision } =
    facts.checked.body;
  const figures = { melt, verdict, finenessPerMille, standardUncertaintyPerMille };
  if (verdict !== 'passes') {
    return [
      refuse(laboratoryRefusals, 'VerdictNotPasses', {
        message: `The verdict on melt ${melt} is: ${verdict}. ${String(decision.output.words)}`,
        field: 'ruling',
        figures,
      }),
    ];
  }
  if (scope === 'inside') return [];
  return [
    refuse(laboratoryRefusals, 'OutsideMethodScope', {
      message: `${finenessPerMille} ‰ of melt ${melt} lies outside the scope of ${method}.`,
      field: 'ruling',
      figures: { ...figures, method },
    }),
  ];
}

function physicalAgainst(sampled: SampledMelt): readonly Refusal[] {
  const physical = physicalOf(sampled);
  if (physical.state === 'accepted') return [];
  const { blanksMeasured, blanksForPhysical, blanksNonconforming, rejectionNumber } = physical;
  return [
    refuse(laboratoryRefusals, 'PhysicalNotAccepted', {
      message: `Of ${blanksForPhysical} blanks ${blanksMeasured} are measured and ${blanksNonconforming} lie outside their limits; ${rejectionNumber} reject the melt.`,
      field: 'ruling',
      figures: { melt: sampled.melt.melt, ...physical },
    }),
  ];
}

/** A concession is for blanks that were all measured and rejected for their dimensions alone. */
function concessionAgainst(sampled: SampledMelt): readonly Refusal[] {
  const physical = physicalOf(sampled);
  const belowLeast = sampled.trial?.blanksBelowLeastMass ?? 0;
  const offMass = sampled.trial?.blanksOffMass ?? 0;
  const reasons = [
    ...(physical.state === 'rejected' ? [] : [`the blanks are not rejected but ${physical.state}`]),
    ...(physical.blanksMeasured < physical.blanksForPhysical
      ? [`only ${physical.blanksMeasured} of ${physical.blanksForPhysical} blanks are measured`]
      : []),
    ...(belowLeast > 0 ? [`${belowLeast} of the blanks lie below the least mass`] : []),
    ...(offMass >= physical.rejectionNumber
      ? [`${offMass} of the blanks lie outside the limits of mass`]
      : []),
  ];
  if (reasons.length === 0) return [];
  return [
    refuse(laboratoryRefusals, 'ConcessionNotPossible', {
      message: `Nothing can be conceded for melt ${sampled.melt.melt}: ${reasons.join('; ')}.`,
      field: 'ruling',
      figures: {
        melt: sampled.melt.melt,
        ...physical,
        blanksBelowLeastMass: belowLeast,
        blanksOffMass: offMass,
      },
    }),
  ];
}

function against(
  input: z.infer<typeof ruleInput>,
  facts: RulingFacts,
  sampled: SampledMelt,
): readonly Refusal[] {
  const order = cannotFollow(input.ruling, sampled.trial);
  if (order.length > 0 || input.ruling === 'hold' || input.ruling === 'refuse') return order;
  const fineness = [
    ...finenessAgainst(input.melt, facts),
    ...impurityGate(input.melt, sampled.standard, facts.checked),
    ...resultGate(facts.gated),
    ...measurementGate(facts.measurementsHeld),
    ...findingGate(facts.findingsHeld),
    ...screeningGate(input.melt, facts.screeningsOpen),
  ];
  return input.ruling === 'release'
    ? [...fineness, ...physicalAgainst(sampled)]
    : [...fineness, ...concessionAgainst(sampled)];
}

function decideRuling(input: z.infer<typeof ruleInput>, facts: RulingFacts): Decision {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return { refusals: [notSampled(input.melt, sampled)] };
  const refusals = against(input, facts, sampled);
  if (refusals.length > 0) return { refusals };
  const { checked } = facts;
  const body: MeltRuledBody = {
    melt: input.melt,
    pieceStandard: sampled.standard.pieceStandard,
    ruling: input.ruling,
    reason: input.reason,
    result: checked?.result ?? null,
    verdict: checked?.body.verdict ?? null,
    finenessPerMille: checked?.body.finenessPerMille ?? null,
    standardUncertaintyPerMille: checked?.body.standardUncertaintyPerMille ?? null,
    conformanceProbability: checked
      ? Number(checked.body.decision.output.conformanceProbability)
      : null,
    physical: physicalOf(sampled),
  };
  return {
    entries: [
      draft(MeltRuled, body),
      ...(input.ruling === 'refuse' ? judgeWhenRefused(sampled) : []),
    ],
    answer: { melt: input.melt, ruling: input.ruling },
  };
}

/** Rules on a melt over the chief assayer's signature. */
export const ruleMelt = defineCommand({
  command: 'rule-melt',
  station: 'laboratory',
  title: 'Rule on melt',
  input: ruleInput,
  roles: ['chief assayer'],
  signature: 'author',
  facts: rulingFacts,
  decide: decideRuling,
});
