import {
  type TitrantFactorInput,
  type TitrantFactorOutput,
  titrantFactorInput,
} from '@cupel/calculation';
import { z } from 'zod';
import type { BookReader } from '../../../journal/books.ts';
import {
  massReadingSchema,
  readingMicrograms,
  readingMilligrams,
} from '../../../journal/reading.ts';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import {
  type Circumstances,
  type Decision,
  defineCommand,
  draft,
} from '../../../journal/station.ts';
import {
  draftReferenceMaterialUsed,
  draftTitrantFactor,
  idSchema,
  type ReagentLotRow,
  type ReferenceMaterialRow,
  reagentLotOf,
  referenceMaterialOf,
  unfitLot,
} from '../../registers/index.ts';
import { assayRuns } from '../books.ts';
import { weighingStandardUncertaintyMilligrams } from '../cupellation-run.ts';
import { type NamedInstrument, namedInstrument, unfitInstrument } from '../melt-facts.ts';
import { laboratoryRefusals } from '../refusals.ts';
import { runCalculated } from '../run-facts.ts';
import { titres } from './books.ts';
import { unfitMaterial } from './gate.ts';
import { controlRefusals } from './refusals.ts';
import { TitreDetermined } from './titre-entries.ts';

const { shape } = titrantFactorInput;
const { label, minutes, volumeMillilitres } = shape.standards.element.shape;

const titreInput = z.strictObject({
  assayRun: idSchema.meta({ title: 'Run', description: 'A name that no run has had.' }),
  lot: idSchema.meta({ title: 'Titrant', description: 'The lot on the label of the bottle.' }),
  referenceMaterial: idSchema.meta({
    title: 'Standard silver',
    description: 'A reference material of silver whose fineness is certified.',
  }),
  standards: z
    .array(
      z.strictObject({
        label,
        minutes,
        silver: massReadingSchema.meta({ title: 'Silver taken', description: 'As weighed.' }),
        volumeMillilitres,
      }),
      'a list of standards',
    )
    .min(2, 'at least two standards')
    .max(100, 'at most 100 standards')
    .refine((all) => new Set(all.map((one) => one.label)).size === all.length, {
      error: 'standards with different labels',
    })
    .meta({ title: 'Standards', description: 'Certified silver titrated with this lot.' }),
  blankMillilitres: shape.blankMillilitres,
  blankStandardUncertaintyMillilitres: shape.blankStandardUncertaintyMillilitres,
  drift: shape.drift,
  volumeStandardUncertaintyMillilitres: shape.volumeStandardUncertaintyMillilitres,
  repeatabilityPerMille: shape.repeatabilityPerMille,
  instrument: idSchema.meta({ title: 'Balance', description: 'That weighed the silver.' }),
});

type TitreInput = z.infer<typeof titreInput>;

interface TitreFacts {
  readonly lot: ReagentLotRow | undefined;
  readonly material: ReferenceMaterialRow | undefined;
  readonly balance: NamedInstrument;
  /** Entry of an earlier run of that name. */
  readonly earlier: number | undefined;
}

async function titreFacts(
  books: BookReader,
  input: TitreInput,
  { instant }: Circumstances,
): Promise<TitreFacts> {
  const earlier =
    (await books.get(assayRuns, input.assayRun)) ?? (await books.get(titres, input.assayRun));
  return {
    lot: await reagentLotOf(books, input.lot),
    material: await referenceMaterialOf(books, input.referenceMaterial),
    balance: await namedInstrument(books, { id: input.instrument, field: 'instrument', instant }),
    earlier: earlier?.entry,
  };
}

function nameUsed({ assayRun }: TitreInput, earlier: number | undefined): readonly Refusal[] {
  if (earlier === undefined) return [];
  return [
    refuse(laboratoryRefusals, 'AssayRunAlreadyUsed', {
      message: `Run ${assayRun} was recorded in entry ${earlier}.`,
      field: 'assayRun',
      figures: { assayRun, entry: earlier },
    }),
  ];
}

function noTitrant(lot: ReagentLotRow | undefined): readonly Refusal[] {
  if (!lot || lot.isTitrant) return [];
  return [
    refuse(controlRefusals, 'NotATitrant', {
      message: `Lot ${lot.lot} of ${lot.reagent} was received as no titrant.`,
      field: 'lot',
      figures: { lot: lot.lot, reagent: lot.reagent },
    }),
  ];
}

/** The certified fineness of the standard silver; nothing where none is certified. */
const certifiedFineness = (material: ReferenceMaterialRow | undefined) =>
  material?.certified.find((one) => one.quantity === 'fineness');

function fitnessRefusals(input: TitreInput, facts: TitreFacts): readonly Refusal[] {
  const { lot, material, balance } = facts;
  const used = input.standards.reduce((sum, one) => sum + readingMicrograms(one.silver), 0);
  const named = { id: input.referenceMaterial, field: 'referenceMaterial', metal: 'silver' };
  return [
    ...nameUsed(input, facts.earlier),
    ...unfitLot({ id: input.lot, field: 'lot' }, lot, balance.day),
    ...noTitrant(lot),
    ...unfitMaterial({ ...named, takenMicrograms: used, day: balance.day }, material),
    ...unfitInstrument(balance, ['balance']),
    ...(material && !certifiedFineness(material)
      ? [
          refuse(controlRefusals, 'CertifiedValueMissing', {
            message: `No fineness is certified of ${material.title}, ${input.referenceMaterial}.`,
            field: 'referenceMaterial',
            figures: { referenceMaterial: input.referenceMaterial },
          }),
        ]
      : []),
  ];
}

/** The factor is stated for the middle of the determination. */
const middleOf = (standards: TitreInput['standards']): number =>
  standards.reduce((sum, one) => sum + one.minutes, 0) / standards.length;

function decideTitre(input: TitreInput, facts: TitreFacts): Decision {
  const refusals = fitnessRefusals(input, facts);
  const silver = certifiedFineness(facts.material);
  const balance = facts.balance.instrument;
  if (refusals.length > 0 || !silver || !balance) return { refusals };
  const { assayRun, lot, referenceMaterial, standards, instrument, repeatabilityPerMille } = input;
  const numbers: TitrantFactorInput = {
    standards: standards.map((one) => ({
      label: one.label,
      minutes: one.minutes,
      silverMassMilligrams: readingMilligrams(one.silver),
      volumeMillilitres: one.volumeMillilitres,
    })),
    silverFinenessPerMille: silver.value,
    silverStandardUncertaintyPerMille: silver.standardUncertainty,
    blankMillilitres: input.blankMillilitres,
    blankStandardUncertaintyMillilitres: input.blankStandardUncertaintyMillilitres,
    drift: input.drift,
    weighingStandardUncertaintyMilligrams: weighingStandardUncertaintyMilligrams(balance),
    volumeStandardUncertaintyMillilitres: input.volumeStandardUncertaintyMillilitres,
    ...(repeatabilityPerMille === undefined ? {} : { repeatabilityPerMille }),
    times: [middleOf(standards)],
  };
  const computed = runCalculated<TitrantFactorOutput>('titrant-factor', numbers, (field) =>
    field.replace(/silverMassMilligrams$/, 'silver'),
  );
  if ('refusals' in computed) return computed;
  const [found] = computed.output.atTimes;
  const factorMilligramsPerMillilitre = found?.factorMilligramsPerMillilitre ?? 0;
  const standardUncertaintyMilligramsPerMillilitre =
    found?.standardUncertaintyMilligramsPerMillilitre ?? 0;
  const titrant = {
    lot,
    factorMilligramsPerMillilitre,
    standardUncertaintyMilligramsPerMillilitre,
  };
  const used = standards.reduce((sum, one) => sum + readingMicrograms(one.silver), 0);
  const body = { assayRun, referenceMaterial, standards, instrument, titrant };
  return {
    entries: [
      draft(TitreDetermined, { ...body, calculated: computed.calculated }, { instrument }),
      draftTitrantFactor({ ...titrant, determinedIn: assayRun }),
      draftReferenceMaterialUsed({ referenceMaterial, massMicrograms: used, usedFor: assayRun }),
    ],
    answer: { assayRun, ...titrant, words: computed.output.words },
  };
}

/** Determines the factor of a titrant against certified silver. */
export const determineTitre = defineCommand({
  command: 'determine-titre',
  station: 'laboratory',
  title: 'Determine titre',
  input: titreInput,
  roles: ['assayer'],
  signature: 'none',
  facts: titreFacts,
  decide: decideTitre,
});
