import { type GrainSizeInput, type GrainSizeOutput, roundNumberText } from '@cupel/calculation';
import { z } from 'zod';
import { type Refusal, refuse } from '../../../journal/refusal.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { idSchema, titleSchema } from '../../registers/index.ts';
import {
  type ExaminationFacts,
  examinable,
  examinationFacts,
  examinedFields,
  findingOf,
} from '../examination/examined-blank.ts';
import { limitsHeld, orderedLimits, type SetLimits } from '../examination/limits.ts';
import { runCalculated } from '../run-facts.ts';
import { StructureExamined } from './entries.ts';
import {
  grainCounts,
  isOnPicture,
  leastBarPixels,
  leastLinePixels,
  markCounts,
  micrometresPerPixel,
  pixelsOf,
} from './picture-marks.ts';
import { structureRefusals } from './refusals.ts';

const pixels = (least: number) => {
  const accepted = `pixels from ${least} to 30000`;
  return z.number(accepted).min(least, accepted).max(30_000, accepted);
};

const point = z.strictObject({ x: pixels(-30_000), y: pixels(-30_000) });
const stretch = { from: point, to: point };

const above = (unit: string, greatest: number) => {
  const accepted = `${unit} above 0, up to ${greatest}`;
  return z.number(accepted).positive(accepted).max(greatest, accepted);
};

const hashForm = 'the SHA-256 of a kept photograph';
const shareForm = 'a share of the line from 0 to 1';

export const structureInput = z.strictObject({
  ...examinedFields,
  photographSha256: z
    .string(hashForm)
    .regex(/^[0-9a-f]{64}$/, hashForm)
    .meta({ title: 'Photograph', description: 'Kept beside the journal before this.' }),
  picture: z
    .strictObject({ widthPixels: pixels(100), heightPixels: pixels(100) })
    .meta({ title: 'Size of the picture', description: 'As the file has it.' }),
  scale: z
    .discriminatedUnion('kind', [
      z.strictObject({
        kind: z.literal('stated'),
        micrometresPerPixel: above('µm', 1000).meta({ title: 'A pixel', unit: 'µm' }),
      }),
      z.strictObject({
        kind: z.literal('bar'),
        bar: z.strictObject(stretch),
        lengthMicrometres: above('µm', 100_000).meta({ title: 'Scale bar', unit: 'µm' }),
      }),
    ])
    .meta({ title: 'Scale', description: 'Stated, or marked at both ends of the scale bar.' }),
  preparation: titleSchema
    .optional()
    .meta({ title: 'Preparation', description: 'How the section was made and etched.' }),
  lines: z
    .array(
      z.strictObject({
        label: idSchema.meta({ title: 'Label' }),
        ...stretch,
        marks: z
          .array(
            z.strictObject({
              at: z.number(shareForm).min(0, shareForm).max(1, shareForm),
              counts: z.union(
                markCounts.map((one) => z.literal(one)),
                '1, 0.5 or 1.5',
              ),
            }),
            'a list of marks',
          )
          .max(1000, 'at most 1000 marks')
          .meta({ title: 'Marks', description: 'Where the line crosses boundaries of grains.' }),
      }),
      'a list of test lines',
    )
    .min(1, 'at least one test line')
    .max(50, 'at most 50 test lines')
    .refine((all) => new Set(all.map(({ label }) => label)).size === all.length, {
      error: 'test lines with different labels',
    })
    .meta({ title: 'Test lines', description: 'Drawn on the picture, in its own pixels.' }),
  orderedLimits: orderedLimits({ least: -5, greatest: 20, unit: 'G' }),
});

type StructureCommand = z.infer<typeof structureInput>;

function barRefused({ scale, picture }: StructureCommand): readonly Refusal[] {
  if (scale.kind === 'stated') return [];
  const length = pixelsOf(scale.bar);
  if (length < leastBarPixels) {
    return [
      refuse(structureRefusals, 'ScaleNotUsable', {
        message: `The scale bar is marked ${roundNumberText(length, 1, 'half-even')} pixels long; it takes ${leastBarPixels} at least.`,
        field: 'scale.bar',
        figures: { lengthPixels: length, leastPixels: leastBarPixels },
      }),
    ];
  }
  return isOnPicture(scale.bar.from, picture) && isOnPicture(scale.bar.to, picture)
    ? []
    : [outside('The scale bar', 'scale.bar', picture)];
}

function outside(what: string, field: string, picture: StructureCommand['picture']): Refusal {
  const { widthPixels, heightPixels } = picture;
  return refuse(structureRefusals, 'PlaceOutsidePicture', {
    message: `${what} leaves the picture of ${widthPixels} by ${heightPixels} pixels.`,
    field,
    figures: { widthPixels, heightPixels },
  });
}

function linesRefused({ lines, picture }: StructureCommand): readonly Refusal[] {
  return lines.flatMap((line, index): readonly Refusal[] => {
    const field = `lines.${index}`;
    if (!isOnPicture(line.from, picture) || !isOnPicture(line.to, picture)) {
      return [outside(`Test line ${line.label}`, field, picture)];
    }
    const length = pixelsOf(line);
    if (length >= leastLinePixels) return [];
    return [
      refuse(structureRefusals, 'TestLineTooShort', {
        message: `Test line ${line.label} is ${roundNumberText(length, 1, 'half-even')} pixels long; it takes ${leastLinePixels} at least.`,
        field,
        figures: { label: line.label, lengthPixels: length, leastPixels: leastLinePixels },
      }),
    ];
  });
}

function grainInput(input: StructureCommand, limits: SetLimits | null): GrainSizeInput {
  const { count, magnification } = grainCounts(input.lines, input.scale);
  return {
    count,
    magnification,
    ...(limits?.least == null ? {} : { lowerLimitGrainSize: limits.least }),
    ...(limits?.greatest == null ? {} : { upperLimitGrainSize: limits.greatest }),
  };
}

function decideStructure(input: StructureCommand, facts: ExaminationFacts): Decision {
  const found = examinable(input, facts, ['microscope']);
  if ('refusals' in found) return found;
  const { standard } = found.sampled;
  const held = limitsHeld(
    {
      pieceStandard: standard.pieceStandard,
      least: standard.grainSizeLeast,
      greatest: standard.grainSizeGreatest,
    },
    input.orderedLimits,
  );
  if ('refusals' in held) return held;
  const refusals = [...barRefused(input), ...linesRefused(input)];
  if (refusals.length > 0) return { refusals };
  const numbers = grainInput(input, held.limits);
  const computed = runCalculated<GrainSizeOutput>('grain-size', numbers, (field) =>
    field.replace(/^count\.fields/, 'lines'),
  );
  if ('refusals' in computed) return computed;
  const { grainSize, isWithinLimits, words } = computed.output;
  const finding = findingOf(isWithinLimits);
  const { melt, blank, instrument } = input;
  const body = {
    melt,
    blank,
    pieceStandard: standard.pieceStandard,
    instrument,
    photographSha256: input.photographSha256,
    picture: input.picture,
    scale: input.scale,
    micrometresPerPixel: micrometresPerPixel(input.scale),
    preparation: input.preparation ?? null,
    lines: input.lines,
    limits: held.limits,
    finding,
    grainSize: computed.calculated,
  };
  return {
    entries: [draft(StructureExamined, body, { instrument })],
    answer: { melt, blank, grainSize, finding, words },
  };
}

/** Finds the grain size of a blank on the photograph of its section. */
export const examineStructure = defineCommand({
  command: 'examine-structure',
  station: 'laboratory',
  title: 'Examine structure',
  input: structureInput,
  roles: ['inspector', 'assayer'],
  signature: 'none',
  facts: examinationFacts,
  decide: decideStructure,
});
