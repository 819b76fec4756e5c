import type { TitrantFactorOutput, TitrationOutput } from '@cupel/calculation';
import type { Calculated } from '../../../journal/calculated.ts';
import { invariant } from '../../../journal/fault.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import type { Instrument, PieceStandard } from '../../registers/index.ts';
import type { Determination } from '../bodies.ts';
import type { FoundReference } from '../controls/judge.ts';
import { readingsNotAccepted, runCalculated } from '../run-facts.ts';
import type { Titrated, TitrationRecorded, UsedTitre } from './bodies.ts';
import type { Confirmed } from './confirm-all.ts';
import { standardsOfRun, type TitrationCommand } from './inputs.ts';
import {
  determinationOf,
  factorInput,
  factorRunOf,
  portionCalculation,
  titrantRunOf,
  type WayOfRun,
} from './titration-run.ts';

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
  way: WayOfRun,
  portion: Parameters<typeof portionCalculation>[1],
  field: { readonly at: string; readonly taken: string },
): Computed {
  const { id, input } = portionCalculation(way, portion);
  const computed = runCalculated<TitrationOutput>(id, input, readingField(field.at, field.taken));
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
export function findReference(
  input: TitrationCommand,
  index: number,
  of: { readonly way: WayOfRun; readonly titrated: Titrated },
): FoundReference | { readonly refusals: readonly Refusal[] } {
  const { label, referenceMaterial, taken } = (input.references ?? [])[index] as NonNullable<
    TitrationCommand['references']
  >[number];
  const { way, titrated } = of;
  const field = { at: `references.${index}`, taken: 'taken' };
  const computed = computePortion(way, { label, taken, titrated }, field);
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

/** A run computed from its curves to its determinations. */
export interface TitratedRun {
  readonly factor: { readonly calculated: Calculated; readonly output: TitrantFactorOutput };
  readonly samples: TitrationRecorded['samples'];
  readonly determinations: readonly Determination[];
  readonly way: WayOfRun;
}

/** What a run is computed by, beside what its command states. */
interface RunMeans {
  readonly standard: PieceStandard;
  readonly balance: Instrument;
  /** Nothing where the run has standards of its own. */
  readonly titre: { readonly used: UsedTitre; readonly calculated: Calculated } | undefined;
}

/** By what the portions are computed: the titre where one is named, else the standards of the run. */
function wayOf(input: TitrationCommand, confirmed: Confirmed, means: RunMeans): WayOfRun {
  const { standards, samples, references, reagentBlank } = confirmed;
  const { standard, balance, titre } = means;
  const titrated = [...standards, ...references].map((one) => one.titrated);
  const endPoints = [...titrated, ...samples];
  if (titre) {
    const run = { titre: titre.used, reagentBlank, endPoints };
    return { by: 'titre', shared: factorRunOf(run, standard, balance) };
  }
  const command = standardsOfRun(input);
  invariant(command, 'a run without standards and without a titre');
  const run = { command, reagentBlank, standards, endPoints };
  return { by: 'standards', shared: titrantRunOf(run, standard, balance) };
}

/** The factor of the titrant: of the standards at the times of the portions, or as determined before. */
function factorOf(
  input: TitrationCommand,
  way: WayOfRun,
  of: { readonly times: readonly number[]; readonly titre: RunMeans['titre'] },
): TitratedRun['factor'] | { readonly refusals: readonly Refusal[] } {
  if (way.by === 'standards') {
    return runCalculated<TitrantFactorOutput>(
      'titrant-factor',
      factorInput(way.shared, of.times, input.titrantMolesPerLitre),
      readingField('samples.0', 'sample'),
    );
  }
  invariant(of.titre, 'a run by a titre that is not known');
  const { calculated } = of.titre;
  return { calculated, output: calculated.output as unknown as TitrantFactorOutput };
}

/** Everything that follows from confirmed end points and weighings. */
export function computeRun(
  input: TitrationCommand,
  confirmed: Confirmed,
  means: RunMeans,
): TitratedRun | { readonly refusals: readonly Refusal[] } {
  const { samples } = confirmed;
  const way = wayOf(input, confirmed, means);
  const refusals: Refusal[] = [];
  const computed = input.samples.flatMap(({ label, blank, sample }, index) => {
    const own = samples[index] as Titrated;
    const field = { at: `samples.${index}`, taken: 'sample' };
    const one = computePortion(way, { label, taken: sample, titrated: own }, field);
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
  const factor = factorOf(input, way, { times, titre: means.titre });
  if ('refusals' in factor) return factor;
  return {
    factor,
    samples: computed.map((one) => one.body),
    determinations: computed.map((one) => one.determination),
    way,
  };
}
