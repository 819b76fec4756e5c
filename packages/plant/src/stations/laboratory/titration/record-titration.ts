import {
  roundNumberText,
  type TitrantFactorInput,
  type TitrantFactorOutput,
} from '@cupel/calculation';
import type { BookReader } from '../../../journal/books.ts';
import type { Calculated } from '../../../journal/calculated.ts';
import { invariant } from '../../../journal/fault.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import {
  draftTitrantFactor,
  type PieceStandard,
  type ReagentLotRow,
  reagentLotOf,
} from '../../registers/index.ts';
import type { StatedControls } from '../controls/inputs.ts';
import { joinReasons, judgeControls } from '../controls/judge.ts';
import { controlRefusals } from '../controls/refusals.ts';
import {
  type NamedInstrument,
  namedInstrument,
  notSampled,
  unfitInstrument,
} from '../melt-facts.ts';
import { portionsTooHeavy } from '../record-cupellation.ts';
import { type RunFacts, runFacts, runRefusals, tooManyDeterminations } from '../run-facts.ts';
import type { TitrationRecorded as TitrationRecordedBody } from './bodies.ts';
import { computeRun, findReference } from './compute-run.ts';
import { type Confirmed, confirmAll } from './confirm-all.ts';
import { TitrationRecorded } from './entries.ts';
import { type TitrationCommand, titrationCommandInput } from './inputs.ts';
import { factorSpreadLimitPerMille, type WayOfRun } from './titration-run.ts';
import { type TitreFacts, titreFacts, titreRefused, usedTitreOf } from './use-titre.ts';

const method = 'titration' as const;

interface TitrationFacts extends RunFacts {
  readonly balance: NamedInstrument;
  /** Nothing where the register of reagents does not know the lot. */
  readonly titrantLot: ReagentLotRow | undefined;
  /** The controls, the titrant among the lots where the register knows it. */
  readonly stated: StatedControls;
  /** The determination that stands for the standards; nothing where the run has its own. */
  readonly titre: TitreFacts | undefined;
}

async function titrationFacts(
  books: BookReader,
  input: TitrationCommand,
  circumstances: Circumstances,
): Promise<TitrationFacts> {
  const { references, blanks, reagentLots = [], titrant, balance: id } = input;
  const titrantLot = await reagentLotOf(books, titrant);
  const isNew = titrantLot && !reagentLots.includes(titrant);
  const stated = {
    references,
    blanks,
    reagentLots: isNew ? [...reagentLots, titrant] : reagentLots,
  };
  const { assayRun, melt, instrument } = input;
  const named = { id, field: 'balance', instant: circumstances.instant };
  const run = { assayRun, melt, instrument, method, ...stated };
  const facts = await runFacts(books, run, circumstances);
  const of = { titre: input.titre ?? '', lot: titrant, instant: circumstances.instant };
  return {
    ...facts,
    titre:
      input.titre === undefined ? undefined : await titreFacts(books, of, facts.controls.inForce),
    balance: await namedInstrument(books, named),
    titrantLot,
    stated,
  };
}

/** Refusals of a lot that was added because it is the titrant stand at the titrant. */
function atTitrant(refusal: Refusal, input: TitrationCommand, { stated }: TitrationFacts): Refusal {
  const index = (stated.reagentLots ?? []).indexOf(input.titrant);
  const isTitrant = index >= 0 && refusal.field === `reagentLots.${index}`;
  return isTitrant ? { ...refusal, field: 'titrant' } : refusal;
}

function titratedControls(
  input: TitrationCommand,
  facts: TitrationFacts,
  of: { readonly way: WayOfRun; readonly confirmed: Confirmed },
): ReturnType<typeof judgeControls> {
  const { way, confirmed } = of;
  const computed = confirmed.references.map(({ titrated }, index) =>
    findReference(input, index, { way, titrated }),
  );
  const bad = computed.flatMap((one) => ('refusals' in one ? one.refusals : []));
  if (bad.length > 0) return { refusals: bad };
  const references = computed.flatMap((one) => ('refusals' in one ? [] : [one]));
  const { assayRun } = input;
  return judgeControls({ assayRun, references, controls: facts.stated }, facts.controls);
}

const print = (value: number): string => roundNumberText(value, 3, 'half-even');

/** A drift is no scatter, so that the spread is judged only where the factor is taken for constant. */
function spreadReason(
  { spreadPerMille }: TitrantFactorOutput,
  way: WayOfRun,
  standard: PieceStandard,
): string | null {
  if (way.by === 'titre') return null;
  const { drift, standards } = way.shared;
  const limit = factorSpreadLimitPerMille(standard, standards.length);
  if (drift !== 'none' || spreadPerMille <= limit) return null;
  return `The factors of the standards spread over ${print(spreadPerMille)} ‰; the limit is ${print(limit)} ‰.`;
}

/** The factor of the titrant as it was at the last portion. */
function determinedFactor(
  lot: string,
  { atTimes }: TitrantFactorOutput,
): NonNullable<TitrationRecordedBody['titrantFactor']> {
  const last = atTimes.at(-1);
  invariant(last, 'a run without portions');
  return {
    lot,
    factorMilligramsPerMillilitre: last.factorMilligramsPerMillilitre,
    standardUncertaintyMilligramsPerMillilitre: last.standardUncertaintyMilligramsPerMillilitre,
  };
}

/** The silver of the standards, of the run or of the titre. */
function silverOf({ input }: Calculated) {
  const { silverFinenessPerMille, silverStandardUncertaintyPerMille } =
    input as unknown as TitrantFactorInput;
  return { silverFinenessPerMille, silverStandardUncertaintyPerMille };
}

/** Refuses a lot that the register knows as something else. */
function noTitrant({ titrant }: TitrationCommand, lot: ReagentLotRow | undefined) {
  if (!lot || lot.isTitrant) return [];
  return [
    refuse(controlRefusals, 'NotATitrant', {
      message: `Lot ${titrant} of ${lot.reagent} was received as no titrant.`,
      field: 'titrant',
      figures: { lot: titrant, reagent: lot.reagent },
    }),
  ];
}

function runRefused(input: TitrationCommand, facts: TitrationFacts): readonly Refusal[] {
  const sampled = facts.melt;
  if (sampled.known !== 'sampled') return [notSampled(input.melt, sampled)];
  const { assayRun, melt } = input;
  const portions = input.samples.map(({ blank }, index) => ({
    blank,
    field: `samples.${index}.blank`,
  }));
  const named = { assayRun, melt, method, portions, controls: facts.stated };
  return [
    ...unfitInstrument(facts.balance, ['balance']),
    ...unfitInstrument(facts.instrument, ['burette']),
    ...noTitrant(input, facts.titrantLot),
    ...(facts.titre ? titreRefused(facts.titre, input.titrant) : []),
    ...runRefusals(named, facts, sampled).map((one) => atTitrant(one, input, facts)),
  ];
}

function decideTitration(input: TitrationCommand, facts: TitrationFacts): Decision {
  const refusals = runRefused(input, facts);
  const { melt: sampled, balance } = facts;
  if (refusals.length > 0 || sampled.known !== 'sampled' || !balance.instrument) {
    return { refusals };
  }
  const tooHeavy = portionsTooHeavy(input, sampled);
  if (tooHeavy.length > 0) return { refusals: tooHeavy };
  const confirmed = confirmAll(input);
  if ('refusals' in confirmed) return confirmed;
  const { standard } = sampled;
  const titre = facts.titre && usedTitreOf(facts.titre);
  const run = computeRun(input, confirmed, { standard, balance: balance.instrument, titre });
  if ('refusals' in run) return run;
  const controls = titratedControls(input, facts, { way: run.way, confirmed });
  if ('refusals' in controls) return controls;
  const voidReason = joinReasons([
    spreadReason(run.factor.output, run.way, standard),
    controls.voidReason,
  ]);
  const { melt } = input;
  const tooMany = tooManyDeterminations(facts, { melt, determinations: run.samples.length });
  if (voidReason === null && tooMany.length > 0) return { refusals: tooMany };
  // A run by a titre determines no factor of its own.
  const titrantFactor = titre ? undefined : determinedFactor(input.titrant, run.factor.output);
  // The register states a factor only of a lot that it knows, and never from a void run.
  const isStated = voidReason === null && facts.titrantLot !== undefined;
  const body: TitrationRecordedBody = {
    assayRun: input.assayRun,
    melt,
    pieceStandard: standard.pieceStandard,
    titrant: input.titrant,
    halide: input.halide,
    titrantMolesPerLitre: input.titrantMolesPerLitre ?? null,
    ...silverOf(run.factor.calculated),
    buretteStandardUncertaintyMillilitres: input.buretteStandardUncertaintyMillilitres,
    reagentBlank: confirmed.reagentBlank,
    standards: confirmed.standards,
    ...(titre ? { titre: titre.used } : {}),
    samples: run.samples,
    references: confirmed.references,
    factor: run.factor.calculated,
    balance: input.balance,
    instrument: input.instrument,
    state: voidReason === null ? 'valid' : 'void',
    voidReason,
    determinations: [...run.determinations],
    ...controls.quality,
    ...(titrantFactor ? { titrantFactor } : {}),
  };
  return {
    entries: [
      draft(TitrationRecorded, body, { instrument: input.instrument }),
      ...controls.drafts,
      ...(isStated && titrantFactor
        ? [draftTitrantFactor({ ...titrantFactor, determinedIn: input.assayRun })]
        : []),
    ],
    answer: {
      assayRun: input.assayRun,
      state: body.state,
      voidReason,
      words: run.factor.output.words,
      determinations: run.determinations.map(({ label, finenessPerMille }) => ({
        label,
        finenessPerMille,
      })),
    },
  };
}

/** Records a titration run with its standards or the titre in their place, and every end point. */
export const recordTitration = defineCommand({
  command: 'record-titration',
  station: 'laboratory',
  title: 'Record titration run',
  input: titrationCommandInput,
  roles: ['assayer'],
  signature: 'none',
  facts: titrationFacts,
  decide: decideTitration,
});
