import { type DimensionConformityOutput, dimensionConformityInput } from '@cupel/calculation';
import { z } from 'zod';
import { lengthReadingSchema, readingMillimetres } from '../../../journal/reading.ts';
import { type Decision, defineCommand, draft } from '../../../journal/station.ts';
import { titleSchema } from '../../registers/index.ts';
import type { Finding } from '../examination/books.ts';
import {
  type ExaminationFacts,
  examinable,
  examinationFacts,
  examinedFields,
} from '../examination/examined-blank.ts';
import { runCalculated } from '../run-facts.ts';
import { EdgeMeasured } from './entries.ts';

const limitForm = 'a length in mm from 0 to 1000, or nothing';
const limit = z.number(limitForm).min(0, limitForm).max(1000, limitForm).nullable();

const uncertaintyForm = 'a standard uncertainty in µm above 0, up to 1000';

const edgeInput = z.strictObject({
  ...examinedFields,
  rule: dimensionConformityInput.shape.rule,
  limitsSetBy: titleSchema.meta({
    title: 'Limits of',
    description: 'The drawing or order that sets them.',
  }),
  gaugeStandardUncertaintyMicrometres: z
    .number(uncertaintyForm)
    .positive(uncertaintyForm)
    .max(1000, uncertaintyForm)
    .meta({ title: 'Standard uncertainty of a reading', unit: 'µm' }),
  dimensions: z
    .array(
      z.strictObject({
        label: titleSchema.meta({ title: 'Dimension', description: 'Such as edge height.' }),
        readings: z
          .array(lengthReadingSchema, 'a list of readings')
          .min(1, 'at least one reading')
          .max(24, 'at most 24 readings')
          .meta({ title: 'Readings', description: 'One for each place on the blank.' }),
        leastMillimetres: limit.meta({ title: 'Least', unit: 'mm' }),
        greatestMillimetres: limit.meta({ title: 'Greatest', unit: 'mm' }),
      }),
      'a list of dimensions',
    )
    .min(1, 'at least one dimension')
    .max(12, 'at most 12 dimensions')
    .refine((all) => new Set(all.map(({ label }) => label)).size === all.length, {
      error: 'dimensions with different names',
    })
    .meta({ title: 'Dimensions', description: 'Edge height, edge width and others.' }),
});

type EdgeCommand = z.infer<typeof edgeInput>;

const findingOfVerdict: Readonly<Record<DimensionConformityOutput['verdict'], Finding>> = {
  conforms: 'inside',
  undecided: 'undecided',
  'does not conform': 'outside',
};

function numbersOf(input: EdgeCommand) {
  // The exponent moves the point in the text, so that the nearest double is found in one step.
  const standardUncertaintyMillimetres = Number(`${input.gaugeStandardUncertaintyMicrometres}e-3`);
  return {
    rule: input.rule,
    dimensions: input.dimensions.map((one) => ({
      label: one.label,
      readingsMillimetres: one.readings.map(readingMillimetres),
      ...(one.leastMillimetres === null ? {} : { lowerLimitMillimetres: one.leastMillimetres }),
      ...(one.greatestMillimetres === null
        ? {}
        : { upperLimitMillimetres: one.greatestMillimetres }),
      standardUncertaintyMillimetres,
    })),
  };
}

/** The field of the command that a field of the calculation was read from. */
const readingField = (field: string): string =>
  field
    .replace(/lowerLimitMillimetres$/, 'leastMillimetres')
    .replace(/upperLimitMillimetres$/, 'greatestMillimetres')
    .replace('readingsMillimetres', 'readings');

function decideEdge(input: EdgeCommand, facts: ExaminationFacts): Decision {
  const found = examinable(input, facts, ['micrometer', 'gauge', 'microscope']);
  if ('refusals' in found) return found;
  const computed = runCalculated<DimensionConformityOutput>(
    'dimension-conformity',
    numbersOf(input),
    readingField,
  );
  if ('refusals' in computed) return computed;
  const { verdict, words } = computed.output;
  const finding = findingOfVerdict[verdict];
  const { melt, blank, instrument, limitsSetBy, dimensions } = input;
  const { pieceStandard } = found.sampled.standard;
  const conformity = computed.calculated;
  const body = { melt, blank, pieceStandard, instrument, limitsSetBy, dimensions, finding };
  return {
    entries: [draft(EdgeMeasured, { ...body, conformity }, { instrument })],
    answer: { melt, blank, finding, words },
  };
}

/** Gauges the edge of a blank, or other dimensions of it. */
export const measureEdge = defineCommand({
  command: 'measure-edge',
  station: 'laboratory',
  title: 'Measure edge',
  input: edgeInput,
  roles: ['inspector', 'assayer'],
  signature: 'none',
  facts: examinationFacts,
  decide: decideEdge,
});
