import { endPointInput, titrationInput } from '@cupel/calculation';
import { z } from 'zod';
import { massReadingSchema } from '../../../journal/reading.ts';
import { idSchema, reasonSchema } from '../../registers/index.ts';
import { controlFields, referenceFields, referenceList } from '../controls/inputs.ts';
import { curveOrigins, halides } from './bodies.ts';

const within = (unit: string, least: number, greatest: number) => {
  const accepted = `${unit} from ${least} to ${greatest}`;
  return z.number(accepted).min(least, accepted).max(greatest, accepted);
};

const curveSchema = z
  .array(
    z.strictObject({
      volumeMillilitres: within('a volume in mL', 0, 10_000),
      potentialMillivolts: within('a potential in mV', -10_000, 10_000),
    }),
    'a list of points',
  )
  .min(8, 'at least 8 points')
  .max(2000, 'at most 2000 points')
  .meta({ title: 'Curve', description: 'Volumes and potentials in the order of the titration.' });

const fileNameForm = 'a name of 1 to 200 characters';

/** What is stated of every vessel that was titrated. */
const titratedFields = {
  minutes: titrationInput.shape.samples.element.shape.minutes,
  curve: curveSchema,
  origin: z
    .enum(curveOrigins, `one of ${curveOrigins.join(', ')}`)
    .meta({ title: 'Origin', description: 'How the curve came here.' }),
  fileName: z
    .string(fileNameForm)
    .min(1, fileNameForm)
    .max(200, fileNameForm)
    .nullable()
    .meta({ title: 'File', description: 'That the curve was read from; nothing for any other.' }),
  endPointConfirmedMillilitres: within('a volume in mL', 0.01, 1000).meta({
    title: 'End point',
    description: 'The one found on the curve, or another point with its reason.',
    unit: 'mL',
  }),
  endPointReason: reasonSchema
    .optional()
    .meta({ title: 'Why another point', description: 'Where it is not the one found.' }),
};

const labelSchema = idSchema.meta({
  title: 'Label',
  description: 'As it stands on the worksheet.',
});

const isEachOnce = (items: readonly { readonly label: string }[]): boolean =>
  new Set(items.map((item) => item.label)).size === items.length;

const reagentBlank = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('none') }),
    z.strictObject({
      kind: z.literal('stated'),
      volumeMillilitres: within('a volume in mL', -1, 10),
      standardUncertaintyMillilitres: within('a standard uncertainty in mL', 0, 1),
    }),
    z.strictObject({ kind: z.literal('titrated'), ...titratedFields }),
  ])
  .meta({ title: 'Blank titration', description: 'Titrant that the reagents alone take.' });

const { standards: _standards, samples: _samples, ...shared } = titrationInput.shape;

const runFields = z.strictObject({
  assayRun: idSchema.meta({ title: 'Run', description: 'A name that no run has had.' }),
  melt: idSchema.meta({ title: 'Melt', description: 'The melt of all portions.' }),
  titrant: idSchema.meta({ title: 'Titrant', description: 'The lot on the bottle.' }),
  halide: z.enum(halides, `one of ${halides.join(', ')}`).meta({
    title: 'Precipitant',
    description: 'Bromide after ISO 11427, chloride after ISO 13756.',
  }),
  titrantMolesPerLitre: within('a concentration in mol/L', 0.001, 10).optional().meta({
    title: 'Concentration of the titrant',
    description: 'By its making, to compare the factor with.',
    unit: 'mol/L',
  }),
  method: endPointInput.shape.method,
  titre: idSchema.optional().meta({
    title: 'Titre',
    description: 'The determination of the factor of this lot, in place of standards in the run.',
  }),
  drift: shared.drift.optional(),
  silverFinenessPerMille: shared.silverFinenessPerMille.optional(),
  silverStandardUncertaintyPerMille: shared.silverStandardUncertaintyPerMille.optional(),
  buretteStandardUncertaintyMillilitres: within('a standard uncertainty in mL', 0, 1).meta({
    title: 'Standard uncertainty of the burette',
    description: 'Of one volume delivered, from its calibration.',
    unit: 'mL',
  }),
  reagentBlank,
  standards: z
    .array(
      z.strictObject({
        label: labelSchema,
        silver: massReadingSchema.meta({ title: 'Silver taken', description: 'Pure silver.' }),
        ...titratedFields,
      }),
      'a list of standards',
    )
    .min(2, 'at least two standards')
    .max(20, 'at most 20 standards')
    .refine(isEachOnce, { error: 'standards with different labels' })
    .optional()
    .meta({ title: 'Standards', description: 'Pure silver titrated before, between and after.' }),
  samples: z
    .array(
      z.strictObject({
        label: labelSchema,
        blank: idSchema.meta({ title: 'Blank', description: 'That the portion was cut from.' }),
        sample: massReadingSchema.meta({ title: 'Portion', description: 'Metal weighed in.' }),
        ...titratedFields,
      }),
      'a list of portions',
    )
    .min(1, 'at least one portion')
    .max(4, 'at most four portions of one melt')
    .refine(isEachOnce, { error: 'portions with different labels' })
    .meta({ title: 'Portions', description: 'Of this melt, in the order of the titration.' }),
  balance: idSchema.meta({ title: 'Balance', description: 'That weighed silver and portions.' }),
  instrument: idSchema.meta({ title: 'Burette', description: 'With its electrode.' }),
  references: referenceList(z.strictObject({ ...referenceFields, ...titratedFields })),
  ...controlFields,
});

/** What is stated of the standards of a run; nothing of it where a titre stands for them. */
const standardFields = [
  'standards',
  'drift',
  'silverFinenessPerMille',
  'silverStandardUncertaintyPerMille',
] as const;

/** A run rests on standards of its own, or on a titre, and never on both. */
function eitherStandardsOrTitre(run: z.infer<typeof runFields>, context: z.RefinementCtx): void {
  for (const field of standardFields) {
    const isStated = run[field] !== undefined;
    if (isStated === (run.titre === undefined)) continue;
    const message = isStated
      ? 'nothing, since a titre stands for the standards'
      : 'what the standards of the run ask for, or a titre in their place';
    context.addIssue({ code: 'custom', path: [field], message });
  }
}

/** Whatever is titrated in a run bears a label of its own, so that its curve can be named. */
export const titrationCommandInput = runFields.superRefine((run, context) => {
  eitherStandardsOrTitre(run, context);
  const taken = new Set((run.standards ?? []).map(({ label }) => label));
  for (const list of ['samples', 'references'] as const) {
    for (const [index, { label }] of (run[list] ?? []).entries()) {
      if (taken.has(label)) {
        const message = 'a label that nothing else in the run bears';
        context.addIssue({ code: 'custom', path: [list, index, 'label'], message });
      }
      taken.add(label);
    }
  }
});

export type TitrationCommand = z.infer<typeof titrationCommandInput>;

/** The standards of a run that has its own, with what is stated of them. */
export type StandardsOfRun = {
  readonly [Field in (typeof standardFields)[number]]: NonNullable<TitrationCommand[Field]>;
};

/** The standards of a run; nothing where a titre stands for them. */
export function standardsOfRun(run: TitrationCommand): StandardsOfRun | undefined {
  const { standards, drift, silverFinenessPerMille, silverStandardUncertaintyPerMille } = run;
  if (
    standards === undefined ||
    drift === undefined ||
    silverFinenessPerMille === undefined ||
    silverStandardUncertaintyPerMille === undefined
  ) {
    return undefined;
  }
  return { standards, drift, silverFinenessPerMille, silverStandardUncertaintyPerMille };
}

/** One titrated vessel as a command states it. */
export type StatedTitration = Pick<
  TitrationCommand['samples'][number],
  'minutes' | 'curve' | 'origin' | 'fileName' | 'endPointConfirmedMillilitres' | 'endPointReason'
>;
