import { z } from 'zod';
import {
  boundedField,
  deviationField,
  figure,
  figureOrNull,
  grams,
  gramsOrNull,
  massesField,
  massField,
  words,
} from './weight-fields.ts';

const lower = () => massField('Lower limit', 'Least mass allowed').optional();
const upper = () => massField('Upper limit', 'Greatest mass allowed').optional();
const groupCount = 'a whole number from 2 to 10000 pieces';
const lotCount = 'a whole number of 2 pieces or more';

const rule = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: z.literal('every-piece').meta({ title: 'Rule for every piece' }),
      lowerLimitGrams: lower(),
      upperLimitGrams: upper(),
    }),
    z.strictObject({
      kind: z.literal('group-mean').meta({ title: 'Rule for the mean of each group' }),
      piecesPerGroup: z
        .int(groupCount)
        .min(2, groupCount)
        .max(10_000, groupCount)
        .meta({ title: 'Pieces in a group', description: 'In the order given', unit: 'pieces' }),
      lowerLimitGrams: lower(),
      upperLimitGrams: upper(),
    }),
    z.strictObject({
      kind: z.literal('sample-mean').meta({ title: 'Rule for the mean of these pieces' }),
      lowerLimitGrams: lower(),
      upperLimitGrams: upper(),
    }),
    z.strictObject({
      kind: z
        .literal('lot-mean')
        .meta({ title: 'Rule for the mean of the lot from which they were drawn' }),
      lotSizePieces: z
        .int(lotCount)
        .min(2, lotCount)
        .meta({ title: 'Lot size', unit: 'pieces' })
        .optional(),
      lowerLimitGrams: lower(),
      upperLimitGrams: upper(),
    }),
  ],
  'a rule of kind every-piece, group-mean, sample-mean or lot-mean, with a lower or upper limit',
);

const someRules = 'a list of 1 to 10 rules';

export const pieceConformityInput = z.strictObject({
  massesGrams: massesField(1, 100_000, 'Masses of single pieces, in the order weighed'),
  individualStandardUncertaintyGrams: deviationField(
    'Standard uncertainty of one weighing',
    'Repeatability and rounding: fresh in every weighing',
  ),
  commonStandardUncertaintyGrams: deviationField(
    'Standard uncertainty shared by all weighings',
    'Calibration of the balance: the same error in every weighing',
  ),
  rules: z
    .array(rule, someRules)
    .min(1, someRules)
    .max(10, someRules)
    .meta({ title: 'Rules', description: 'What pieces, groups and means must hold' }),
  greatestRisk: boundedField(
    { least: 0.0001, greatest: 0.5, accepted: 'a risk from 0.0001 to 0.5' },
    { title: 'Greatest risk', description: 'Accepted probability that a passed rule is not held' },
  ),
});

export type PieceConformityInput = z.infer<typeof pieceConformityInput>;
export type ConformityRule = PieceConformityInput['rules'][number];

const verdict = () => z.enum(['passes', 'undecided', 'fails']).meta({ title: 'Verdict' });

export const pieceConformityOutput = z.strictObject({
  rules: z
    .array(
      z.strictObject({
        rule: z.string().meta({ title: 'Rule' }),
        judged: z.int().meta({ title: 'Values judged' }),
        outside: z.int().meta({ title: 'Values read outside the limits' }),
        uncertain: z.int().meta({
          title: 'Values that neither pass nor fail at this risk',
        }),
        standardUncertaintyGrams: grams('Standard uncertainty of one value'),
        worstGrams: grams('Value least likely to conform'),
        worstPlace: z.int().meta({ title: 'Its place, counted from 1' }),
        worstProbability: figure('Its probability of conforming'),
        probability: figure('Probability that all conform'),
        effectiveDegreesOfFreedom: figureOrNull('Effective degrees of freedom, for a lot mean'),
        acceptFromGrams: gramsOrNull('A value passes from'),
        acceptToGrams: gramsOrNull('A value passes up to'),
        verdict: verdict(),
      }),
    )
    .meta({ title: 'Rule by rule' }),
  verdict: verdict(),
  words: words(),
});

export type PieceConformityOutput = z.infer<typeof pieceConformityOutput>;
