import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { fractionAt, variablesAcceptance } from './variables-acceptance.ts';
import { tabulatedPlan, usedLimit, variablesLetter } from './variables-lookup.ts';
import { deviationMethod, variablesCurve } from './variables-operating-characteristic.ts';
import { variablesLevels } from './variables-tables.ts';

const lotAccepted = 'a whole number of 2 pieces or more';
const limitAccepted = 'a limit above 0 and at most 16.4 %';
const oneOf = (values: readonly string[]) => `one of ${values.join(', ')}`;

const table = z.discriminatedUnion(
  'standard',
  [
    z.strictObject({
      standard: z.literal('MIL-STD-414').meta({ title: 'Standard' }),
      inspectionLevel: z
        .enum(variablesLevels['MIL-STD-414'], oneOf(variablesLevels['MIL-STD-414']))
        .meta({ title: 'Inspection level', description: 'IV unless the order says otherwise' }),
      severity: z.enum(['normal', 'tightened'], 'normal or tightened').meta({ title: 'Severity' }),
    }),
    z.strictObject({
      standard: z.literal('ANSI/ASQ Z1.9').meta({ title: 'Standard' }),
      inspectionLevel: z
        .enum(variablesLevels['ANSI/ASQ Z1.9'], oneOf(variablesLevels['ANSI/ASQ Z1.9']))
        .meta({ title: 'Inspection level', description: 'II unless the order says otherwise' }),
      severity: z
        .enum(['normal', 'tightened', 'reduced'], 'normal, tightened or reduced')
        .meta({ title: 'Severity' }),
    }),
  ],
  { error: 'MIL-STD-414 or ANSI/ASQ Z1.9 with level and severity' },
);

export const variablesPlanInput = z.strictObject({
  lotSizePieces: z
    .int(lotAccepted)
    .min(2, lotAccepted)
    .meta({ title: 'Lot size', description: 'Pieces presented as one lot', unit: 'pieces' }),
  table: table.meta({ title: 'Tables' }),
  method: deviationMethod,
  acceptanceQualityLimitPercent: z
    .number(limitAccepted)
    .positive(limitAccepted)
    .max(16.4, limitAccepted)
    .meta({
      title: 'Acceptance quality limit',
      description: 'Turned into a limit of the tables by Table A-1',
      unit: '%',
    }),
});

export type VariablesPlanInput = z.infer<typeof variablesPlanInput>;

const percent = (title: string, description?: string) =>
  z.number().meta({ title, unit: '%', ...(description === undefined ? {} : { description }) });

export const variablesPlanOutput = z.strictObject({
  codeLetter: z.string().meta({ title: 'Code letter of the lot' }),
  planLetter: z.string().meta({ title: 'Letter of the plan used, after arrows' }),
  usedLimitPercent: percent('Limit of the tables'),
  sampleSizePieces: z.int().meta({ title: 'Pieces to measure', unit: 'pieces' }),
  acceptabilityConstant: z.number().meta({
    title: 'Acceptability constant k',
    description: 'For one limit: accept when (limit − mean)/deviation is at least k',
  }),
  maximumPercent: percent(
    'Greatest allowable estimate M',
    'For one limit or two: accept when the estimated percentage is at most M',
  ),
  examineEveryPiece: z.boolean().meta({ title: 'Examine every piece' }),
  acceptanceProbabilityAtLimit: z
    .number()
    .meta({ title: 'Probability that a lot at the limit is accepted' }),
  acceptedAt10Percent: percent('Nonconforming that is accepted with probability 0.10'),
  words: z.string().meta({ title: 'In words' }),
});

export type VariablesPlanOutput = z.infer<typeof variablesPlanOutput>;

const short = (value: number): string => Number(value.toPrecision(3)).toString();

function planWords(output: Omit<VariablesPlanOutput, 'words'>, input: VariablesPlanInput): string {
  if (output.examineEveryPiece) {
    return `The plan asks for ${output.sampleSizePieces} pieces, the lot has ${input.lotSizePieces}: examine every piece.`;
  }
  const deviation =
    input.method === 's' ? "the sample's standard deviations" : 'the known standard deviations';
  return `Measure ${output.sampleSizePieces} of ${input.lotSizePieces} pieces. One limit: accept when the mean lies at least ${short(output.acceptabilityConstant)} of ${deviation} inside it. Two limits: accept when the estimated percentage outside both together is at most ${short(output.maximumPercent)} %. The measurements must be normal.`;
}

/**
 * Sampling plan for a lot judged by variables: how many pieces to measure, and how far inside the limits
 * their mean must lie; fewer pieces than by attributes, as long as the measurements are normal.
 *
 * Formula: Table A-1 gives the limit of the tables, A-2 the letter from lot size and level, B-1, B-3, D-1
 * and D-3 the plan with k (form 1, one limit) and M (form 2, one or two limits), arrows followed. When the
 * sample equals or exceeds the lot, every piece is examined.
 *
 * @param input lot of 2 pieces or more (3 by MIL-STD-414); tables, level, severity; method; limit up to 16.4 %
 * @returns letters, sample size, k, M in percent, probability of acceptance at the limit of the tables
 * @throws DomainError where the tables have no plan: reduced and, beyond letter I, sigma of MIL-STD-414
 * Validity: normal measurements (see `variablesVerdict`), drawn at random, lots in a series. See
 * reference/variables-plans for what was seen in how many sources.
 * Source: MIL-STD-414 (1957), Tables, B-1, B-3; ANSI/ASQ Z1.9, the same and B-4, D-1, D-3, D-4
 * @example variablesPlan({ lotSizePieces: 40, table: { standard: 'MIL-STD-414', inspectionLevel: 'IV',
 *   severity: 'normal' }, method: 's', acceptanceQualityLimitPercent: 1 }).acceptabilityConstant // 1.53
 */
export function variablesPlan(input: VariablesPlanInput): VariablesPlanOutput {
  const { lotSizePieces, method, table: tables } = input;
  const { standard, inspectionLevel, severity } = tables;
  const limitPercent = usedLimit(input.acceptanceQualityLimitPercent, standard);
  const letter = variablesLetter(lotSizePieces, standard, inspectionLevel);
  const plan = tabulatedPlan({ standard, letter, limitPercent, severity, method });
  const forOneLimit = {
    sampleSizePieces: plan.sampleSizePieces,
    acceptabilityConstant: plan.acceptabilityConstant,
    method,
  };
  const output = {
    codeLetter: letter,
    planLetter: plan.letter,
    usedLimitPercent: limitPercent,
    sampleSizePieces: plan.sampleSizePieces,
    acceptabilityConstant: plan.acceptabilityConstant,
    maximumPercent: plan.maximumPercent,
    examineEveryPiece: plan.sampleSizePieces >= lotSizePieces,
    acceptanceProbabilityAtLimit: variablesAcceptance(forOneLimit)(limitPercent / 100),
    acceptedAt10Percent: 100 * fractionAt(forOneLimit, 0.1),
  };
  return { ...output, words: planWords(output, input) };
}

function drawVariablesPlan(input: VariablesPlanInput, output: VariablesPlanOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Operating characteristic',
      xTitle: 'Nonconforming, %',
      yTitle: 'Probability of acceptance',
      series: [
        variablesCurve({ ...output, method: input.method }, `n = ${output.sampleSizePieces}`),
      ],
      marks: [{ x: output.usedLimitPercent, label: `limit ${output.usedLimitPercent}` }],
    },
  ];
}

export const variablesPlanCalculation = defineCalculation<VariablesPlanInput, VariablesPlanOutput>({
  id: 'variables-plan',
  version: 1,
  topic: 'sampling',
  title: 'Sampling plan by variables',
  purpose:
    'How many pieces of a lot to measure, and how far inside the limits their mean must lie, for measurements that are normal.',
  source:
    'MIL-STD-414 (1957), Tables A-1, A-2, B-1 and B-3; ANSI/ASQ Z1.9, Tables A-1, A-2, B-1, B-3, B-4, D-1, D-3 and D-4',
  input: variablesPlanInput,
  output: variablesPlanOutput,
  // MIL-STD-414, example B-1: letter D, 5 pieces, k = 1.53, M = 3.32.
  example: {
    lotSizePieces: 40,
    table: { standard: 'MIL-STD-414', inspectionLevel: 'IV', severity: 'normal' },
    method: 's',
    acceptanceQualityLimitPercent: 1,
  },
  compute: variablesPlan,
  draw: drawVariablesPlan,
});
