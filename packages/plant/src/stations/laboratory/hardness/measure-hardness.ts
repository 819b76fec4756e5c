import { type VickersInput, type VickersOutput, vickersInput } from '@cupel/calculation';
import { z } from 'zod';
import { lengthReadingSchema, readingMillimetres } from '../../../journal/reading.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema } from '../../registers/index.ts';
import {
  type ExaminationFacts,
  examinable,
  examinationFacts,
  examinedFields,
  findingOf,
} from '../examination/examined-blank.ts';
import { limitsHeld, orderedLimits, type SetLimits } from '../examination/limits.ts';
import { runCalculated } from '../run-facts.ts';
import { HardnessMeasured } from './entries.ts';

const { testForceNewtons, spacingGroup, forceRelativeStandardUncertaintyPercent } =
  vickersInput.shape;

const uncertaintyForm = 'a standard uncertainty in µm from 0 to 100';

const distance = (title: string) =>
  lengthReadingSchema.optional().meta({ title, description: 'Left out, it is not judged.' });

export const hardnessInput = z.strictObject({
  ...examinedFields,
  testForceNewtons,
  spacingGroup,
  forceRelativeStandardUncertaintyPercent,
  diagonalStandardUncertaintyMicrometres: z
    .number(uncertaintyForm)
    .min(0, uncertaintyForm)
    .max(100, uncertaintyForm)
    .meta({
      title: 'Standard uncertainty of a diagonal',
      description: 'Of the microscope and of reading it; less than 0.5 µm is seldom reached.',
      unit: 'µm',
    }),
  indentations: z
    .array(
      z.strictObject({
        label: idSchema.meta({ title: 'Label', description: 'As it stands on the worksheet.' }),
        first: lengthReadingSchema.meta({ title: 'First diagonal', description: 'As read.' }),
        second: lengthReadingSchema.meta({ title: 'Second diagonal', description: 'As read.' }),
        edgeDistance: distance('Distance of the centre from the edge'),
        neighbourDistance: distance('Distance of the centre from the nearest centre'),
      }),
      'a list of indentations',
    )
    .min(1, 'at least one indentation')
    .max(50, 'at most 50 indentations')
    .refine((all) => new Set(all.map(({ label }) => label)).size === all.length, {
      error: 'indentations with different labels',
    })
    .meta({ title: 'Indentations', description: 'Of this blank, one after the other.' }),
  orderedLimits: orderedLimits({ least: 1, greatest: 5000, unit: 'HV' }),
});

type HardnessCommand = z.infer<typeof hardnessInput>;

/** The readings as the calculation takes them; a blank that was gauged brings its thickness. */
function numbersOf(
  input: HardnessCommand,
  of: { readonly limits: SetLimits | null; readonly thicknessMillimetres: number | undefined },
): VickersInput {
  const { limits, thicknessMillimetres } = of;
  return {
    testForceNewtons: input.testForceNewtons,
    spacingGroup: input.spacingGroup,
    forceRelativeStandardUncertaintyPercent: input.forceRelativeStandardUncertaintyPercent,
    // The exponent moves the point in the text, so that the nearest double is found in one step.
    diagonalStandardUncertaintyMillimetres: Number(
      `${input.diagonalStandardUncertaintyMicrometres}e-3`,
    ),
    ...(thicknessMillimetres === undefined ? {} : { thicknessMillimetres }),
    indentations: input.indentations.map((one) => ({
      label: one.label,
      firstDiagonalMillimetres: readingMillimetres(one.first),
      secondDiagonalMillimetres: readingMillimetres(one.second),
      ...(one.edgeDistance
        ? { edgeDistanceMillimetres: readingMillimetres(one.edgeDistance) }
        : {}),
      ...(one.neighbourDistance
        ? { neighbourDistanceMillimetres: readingMillimetres(one.neighbourDistance) }
        : {}),
    })),
    ...(limits?.least == null ? {} : { lowerLimitHardness: limits.least }),
    ...(limits?.greatest == null ? {} : { upperLimitHardness: limits.greatest }),
  };
}

/** The field of the command that a field of the calculation was read from. */
const readingField = (field: string): string =>
  field
    .replace(/firstDiagonalMillimetres$/, 'first')
    .replace(/secondDiagonalMillimetres$/, 'second')
    .replace(/edgeDistanceMillimetres$/, 'edgeDistance')
    .replace(/neighbourDistanceMillimetres$/, 'neighbourDistance');

function decideHardness(input: HardnessCommand, facts: ExaminationFacts): Decision {
  const found = examinable(input, facts, ['hardness tester', 'microscope']);
  if ('refusals' in found) return found;
  const { standard, measured } = found.sampled;
  const held = limitsHeld(
    {
      pieceStandard: standard.pieceStandard,
      least: standard.hardnessLeastVickers,
      greatest: standard.hardnessGreatestVickers,
    },
    input.orderedLimits,
  );
  if ('refusals' in held) return held;
  const thicknessMillimetres = measured.get(input.blank)?.measurement.thicknessMillimetres;
  const numbers = numbersOf(input, { limits: held.limits, thicknessMillimetres });
  const computed = runCalculated<VickersOutput>('vickers', numbers, readingField);
  if ('refusals' in computed) return computed;
  const { meanHardness, isWithinLimits, words } = computed.output;
  const finding = findingOf(isWithinLimits);
  const { melt, blank, instrument } = input;
  const body = {
    melt,
    blank,
    pieceStandard: standard.pieceStandard,
    instrument,
    indentations: input.indentations.map((one) => ({
      label: one.label,
      first: one.first,
      second: one.second,
      edgeDistance: one.edgeDistance ?? null,
      neighbourDistance: one.neighbourDistance ?? null,
    })),
    limits: held.limits,
    finding,
    vickers: computed.calculated,
  };
  return {
    entries: [draft(HardnessMeasured, body, { instrument })],
    answer: { melt, blank, meanHardness, finding, words },
  };
}

/** Measures the Vickers hardness of a blank. */
export const measureHardness = defineCommand({
  command: 'measure-hardness',
  station: 'laboratory',
  title: 'Measure hardness',
  input: hardnessInput,
  roles: ['inspector', 'assayer'],
  signature: 'none',
  facts: examinationFacts,
  decide: decideHardness,
});
