import type { TitrantFactorOutput, TitrationOutput } from '@cupel/calculation';
import type { Calculated } from '../../../journal/calculated.ts';
import type { Refusal } from '../../../journal/refusal.ts';
import type { Instrument, PieceStandard } from '../../registers/index.ts';
import type { Determination } from '../bodies.ts';
import type { FoundReference } from '../controls/judge.ts';
import { readingsNotAccepted, runCalculated } from '../run-facts.ts';
import type { Titrated, TitrationRecorded } from './bodies.ts';
import type { Confirmed } from './confirm-all.ts';
import type { TitrationCommand } from './inputs.ts';
import {
  determinationOf,
  factorInput,
  portionInput,
  type TitrantRun,
  titrantRunOf,
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
  shared: TitrantRun,
  portion: Parameters<typeof portionInput>[1],
  field: { readonly at: string; readonly taken: string },
): Computed {
  const input = portionInput(shared, portion);
  const computed = runCalculated<TitrationOutput>(
    'titration',
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
export function findReference(
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

/** A run computed from its curves to its determinations. */
export interface TitratedRun {
  readonly factor: { readonly calculated: Calculated; readonly output: TitrantFactorOutput };
  readonly samples: TitrationRecorded['samples'];
  readonly determinations: readonly Determination[];
  readonly shared: TitrantRun;
}

/** Everything that follows from confirmed end points and weighings. */
export function computeRun(
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
