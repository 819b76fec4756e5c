import {
  roundNumberText,
  type TitrantFactorOutput,
  type TitrationOutput,
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
  type Instrument,
  type PieceStandard,
  type ReagentLotRow,
  reagentLotOf,
} from '../../registers/index.ts';
import type { Determination } from '../bodies.ts';
import type { StatedControls } from '../controls/inputs.ts';
import { type FoundReference, joinReasons, judgeControls } from '../controls/judge.ts';
import { controlRefusals } from '../controls/refusals.ts';
import {
  type NamedInstrument,
  namedInstrument,
  notSampled,
  unfitInstrument,
} from '../melt-facts.ts';
import { portionsTooHeavy } from '../record-cupellation.ts';
import {
  type RunFacts,
  readingsNotAccepted,
  runCalculated,
  runFacts,
  runRefusals,
  tooManyDeterminations,
} from '../run-facts.ts';
import type { Titrated, TitrationRecorded as TitrationRecordedBody } from './bodies.ts';
import { confirmEndPoint } from './confirm-end-point.ts';
import { TitrationRecorded } from './entries.ts';
import { type StatedTitration, type TitrationCommand, titrationCommandInput } from './inputs.ts';
import {
  determinationOf,
  factorInput,
  factorSpreadLimitPerMille,
  portionInput,
  type TitrantRun,
  titrantRunOf,
} from './titration-run.ts';

const method = 'titration' as const;

interface TitrationFacts extends RunFacts {
  readonly balance: NamedInstrument;
  /** Nothing where the register of reagents does not know the lot. */
  readonly titrantLot: ReagentLotRow | undefined;
  /** The controls, the titrant among the lots where the register knows it. */
  readonly stated: StatedControls;
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
  return {
    ...(await runFacts(books, run, circumstances)),
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

interface Confirmed {
  readonly reagentBlank: TitrationRecordedBody['reagentBlank'];
  readonly standards: TitrationRecordedBody['standards'];
  readonly samples: readonly Titrated[];
  readonly references: TitrationRecordedBody['references'];
}

/** Every end point of the run, or all the reasons why one of them does not count. */
function confirmAll(
  input: TitrationCommand,
): Confirmed | { readonly refusals: readonly Refusal[] } {
  const refusals: Refusal[] = [];
  const confirmed = (label: string, field: string, stated: StatedTitration): Titrated[] => {
    const one = confirmEndPoint({ label, field }, stated, input);
    if ('titrated' in one) return [one.titrated];
    refusals.push(...one.refusals);
    return [];
  };
  const { reagentBlank: blank, references = [] } = input;
  const blankCurve =
    blank.kind === 'titrated' ? confirmed('the blank', 'reagentBlank', blank)[0] : undefined;
  const standards = input.standards.flatMap((one, index) =>
    confirmed(one.label, `standards.${index}`, one).map((titrated) => ({
      label: one.label,
      silver: one.silver,
      titrated,
    })),
  );
  const samples = input.samples.flatMap((one, index) =>
    confirmed(one.label, `samples.${index}`, one),
  );
  const portions = references.flatMap((one, index) =>
    confirmed(one.label, `references.${index}`, one).map((titrated) => ({
      label: one.label,
      titrated,
    })),
  );
  if (refusals.length > 0) return { refusals };
  const reagentBlank =
    blank.kind === 'titrated'
      ? { kind: blank.kind, titrated: blankCurve as Titrated }
      : { ...blank };
  return { reagentBlank, standards, samples, references: portions };
}

/** The field of the command that a field of the calculation was read from. */
const readingField = (at: string, taken: string) => (field: string) =>
  field
    .replace(/^samples\.0$/, `${at}.${taken}`)
    .replace(/^samples\.0/, at)
    .replace(/sampleMassMilligrams$/, taken)
    .replace(/silverMassMilligrams$/, 'silver')
    .replace(/volumeMillilitres$/, 'endPointConfirmedMillilitres');

type Computed =
  | { readonly calculated: Calculated; readonly output: TitrationOutput }
  | { readonly refusals: readonly Refusal[] };

/** One portion computed; more silver than metal is no finding. */
function computePortion(
  shared: TitrantRun,
  portion: Parameters<typeof portionInput>[1],
  field: { readonly at: string; readonly taken: string },
): Computed {
  const input = portionInput(shared, portion);
  const computed = runCalculated<TitrationOutput>(
    method,
    input,
    readingField(field.at, field.taken),
  );
  if ('refusals' in computed) return computed;
  const { meanFinenessPerMille: found } = computed.output;
  if (found <= 1000) return computed;
  const refusal = readingsNotAccepted({
    field: `${field.at}.${field.taken}`,
    value: `the cause of a fineness of ${found} ‰`,
    accepted: 'a portion and an end point that leave the fineness at or below 1000 ‰',
  });
  return { refusals: [refusal] };
}

/** What the run finds of a reference portion: its fineness, like that of any other portion. */
function findReference(
  input: TitrationCommand,
  index: number,
  of: { readonly shared: TitrantRun; readonly titrated: Titrated },
): FoundReference | { readonly refusals: readonly Refusal[] } {
  const { label, referenceMaterial, taken } = (input.references ?? [])[index] as NonNullable<
    TitrationCommand['references']
  >[number];
  const { shared, titrated } = of;
  const field = { at: `references.${index}`, taken: 'taken' };
  const computed = computePortion(shared, { label, taken, titrated }, field);
  if ('refusals' in computed) return computed;
  const { meanFinenessPerMille: value, standardUncertaintyPerMille } = computed.output;
  const fineness = { quantity: 'fineness', unit: '‰', value };
  return {
    label,
    referenceMaterial,
    taken,
    readings: [],
    calculated: computed.calculated,
    found: [{ ...fineness, standardUncertainty: standardUncertaintyPerMille }],
  };
}

function titratedControls(
  input: TitrationCommand,
  facts: TitrationFacts,
  of: { readonly shared: TitrantRun; readonly confirmed: Confirmed },
): ReturnType<typeof judgeControls> {
  const { shared, confirmed } = of;
  const computed = confirmed.references.map(({ titrated }, index) =>
    findReference(input, index, { shared, titrated }),
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
  run: Pick<TitrantRun, 'drift' | 'standards'>,
  standard: PieceStandard,
): string | null {
  const limit = factorSpreadLimitPerMille(standard, run.standards.length);
  if (run.drift !== 'none' || spreadPerMille <= limit) return null;
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

interface TitratedRun {
  readonly factor: { readonly calculated: Calculated; readonly output: TitrantFactorOutput };
  readonly samples: TitrationRecordedBody['samples'];
  readonly determinations: readonly Determination[];
  readonly shared: TitrantRun;
}

/** Everything that follows from confirmed end points and weighings. */
function computeRun(
  input: TitrationCommand,
  confirmed: Confirmed,
  of: { readonly standard: PieceStandard; readonly balance: Instrument },
): TitratedRun | { readonly refusals: readonly Refusal[] } {
  const { standards, samples, references, reagentBlank } = confirmed;
  const titrated = [...standards, ...references].map((one) => one.titrated);
  const endPoints = [...titrated, ...samples];
  const run = { command: input, reagentBlank, standards, endPoints };
  const shared = titrantRunOf(run, of.standard, of.balance);
  const refusals: Refusal[] = [];
  const computed = input.samples.flatMap(({ label, blank, sample }, index) => {
    const own = samples[index] as Titrated;
    const field = { at: `samples.${index}`, taken: 'sample' };
    const one = computePortion(shared, { label, taken: sample, titrated: own }, field);
    if ('refusals' in one) {
      refusals.push(...one.refusals);
      return [];
    }
    const determination = determinationOf(blank, one.output);
    const body = { label, blank, sample, titrated: own, titration: one.calculated };
    return [{ determination, body }];
  });
  if (refusals.length > 0) return { refusals };
  const times = samples.map((one) => one.minutes);
  const factor = runCalculated<TitrantFactorOutput>(
    'titrant-factor',
    factorInput(shared, times, input.titrantMolesPerLitre),
    readingField('samples.0', 'sample'),
  );
  if ('refusals' in factor) return factor;
  return {
    factor,
    samples: computed.map((one) => one.body),
    determinations: computed.map((one) => one.determination),
    shared,
  };
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
  const run = computeRun(input, confirmed, { standard, balance: balance.instrument });
  if ('refusals' in run) return run;
  const controls = titratedControls(input, facts, { shared: run.shared, confirmed });
  if ('refusals' in controls) return controls;
  const voidReason = joinReasons([
    spreadReason(run.factor.output, run.shared, standard),
    controls.voidReason,
  ]);
  const { melt } = input;
  const tooMany = tooManyDeterminations(facts, { melt, determinations: run.samples.length });
  if (voidReason === null && tooMany.length > 0) return { refusals: tooMany };
  const titrantFactor = determinedFactor(input.titrant, run.factor.output);
  // The register states a factor only of a lot that it knows, and never from a void run.
  const isStated = voidReason === null && facts.titrantLot !== undefined;
  const body: TitrationRecordedBody = {
    assayRun: input.assayRun,
    melt,
    pieceStandard: standard.pieceStandard,
    titrant: input.titrant,
    halide: input.halide,
    titrantMolesPerLitre: input.titrantMolesPerLitre ?? null,
    silverFinenessPerMille: input.silverFinenessPerMille,
    silverStandardUncertaintyPerMille: input.silverStandardUncertaintyPerMille,
    buretteStandardUncertaintyMillilitres: input.buretteStandardUncertaintyMillilitres,
    reagentBlank: confirmed.reagentBlank,
    standards: confirmed.standards,
    samples: run.samples,
    references: confirmed.references,
    factor: run.factor.calculated,
    balance: input.balance,
    instrument: input.instrument,
    state: voidReason === null ? 'valid' : 'void',
    voidReason,
    determinations: [...run.determinations],
    ...controls.quality,
    titrantFactor,
  };
  return {
    entries: [
      draft(TitrationRecorded, body, { instrument: input.instrument }),
      ...controls.drafts,
      ...(isStated ? [draftTitrantFactor({ ...titrantFactor, determinedIn: input.assayRun })] : []),
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

/** Records a titration run with its standards, its curves and every confirmed end point. */
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
