import { z } from 'zod';
import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfInteger,
  decimalOfNumber,
  decimalOfText,
  multiplyDecimals,
  numberOfDecimal,
  subtractDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { numberField } from './number-field.ts';
import {
  nominalMasses,
  type WeightClass,
  weightClasses,
  weightLimitMilligrams,
} from './weight-limits-table.ts';

const verdicts = ['fits', 'undecided', 'does not fit'] as const;

export const weightLimitsInput = z.strictObject({
  nominalMass: z
    .enum(nominalMasses, { error: `one of ${nominalMasses.join(', ')}` })
    .meta({ title: 'Nominal mass' }),
  weightClass: z
    .enum(weightClasses, { error: `one of ${weightClasses.join(', ')}` })
    .meta({ title: 'Class', description: 'E1 is the finest, M3 the coarsest' }),
  errorMilligrams: numberField('error of conventional mass', {
    least: -1e8,
    greatest: 1e8,
    unit: 'mg',
  })
    .optional()
    .meta({
      title: 'Error of conventional mass',
      description: 'Conventional mass less nominal mass; none gives the limits alone',
      unit: 'mg',
    }),
  expandedUncertaintyMilligrams: numberField('expanded uncertainty', {
    greatest: 1e8,
    unit: 'mg',
  })
    .optional()
    .meta({
      title: 'Expanded uncertainty of the calibration',
      description: 'k = 2; none takes the greatest that is allowed, one third of the limit',
      unit: 'mg',
    }),
});

export type WeightLimitsInput = z.infer<typeof weightLimitsInput>;

const milligrams = (title: string, description?: string) =>
  z.number().meta({ title, unit: 'mg', ...(description === undefined ? {} : { description }) });

export const weightLimitsOutput = z.strictObject({
  limitMilligrams: milligrams('Maximum permissible error', 'Plus or minus, on verification'),
  greatestExpandedUncertaintyMilligrams: milligrams(
    'Greatest expanded uncertainty allowed',
    'One third of the limit, k = 2',
  ),
  isUncertaintySmallEnough: z.boolean().nullable().meta({
    title: 'Uncertainty is small enough',
    description: 'None when no uncertainty was given',
  }),
  innerLimitMilligrams: milligrams(
    'Greatest error of a weight that is accepted',
    'Limit less expanded uncertainty; negative when the uncertainty exceeds the limit',
  ),
  verdict: z.enum(verdicts).nullable().meta({
    title: 'Verdict',
    description:
      'Undecided between limit less and limit plus uncertainty, or when the uncertainty is too large; none when no error was given',
  }),
  finestClass: z.enum(weightClasses).nullable().meta({
    title: 'Finest class that this weight fits',
    description: 'None when there is no error to judge or no class that it fits',
  }),
  limits: z
    .array(
      z.strictObject({
        weightClass: z.enum(weightClasses).meta({ title: 'Class' }),
        limitMilligrams: milligrams('Maximum permissible error'),
        verdict: z.enum(verdicts).nullable().meta({ title: 'Verdict' }),
      }),
    )
    .meta({ title: 'All classes that have this nominal mass' }),
  words: z.string().meta({ title: 'In words' }),
});

export type WeightLimitsOutput = z.infer<typeof weightLimitsOutput>;

const three = decimalOfInteger(3n);

/** Judges an error against one limit; all comparisons are exact in the decimals that were given. */
function verdictOf(
  limit: Decimal,
  error: Decimal | null,
  uncertainty: Decimal | null,
): WeightLimitsOutput['verdict'] {
  if (error === null) return null;
  const size = error.coefficient < 0n ? { ...error, coefficient: -error.coefficient } : error;
  // Everything times three, so that one third of the limit stays exact.
  const limit3 = multiplyDecimals([three, limit]);
  const size3 = multiplyDecimals([three, size]);
  const uncertainty3 = uncertainty === null ? limit : multiplyDecimals([three, uncertainty]);
  const isSmall = compareDecimals(uncertainty3, limit) <= 0;
  const excess = subtractDecimals(size3, limit3);
  if (compareDecimals(excess, uncertainty3) > 0) return 'does not fit';
  const room = subtractDecimals(limit3, size3);
  return isSmall && compareDecimals(room, uncertainty3) >= 0 ? 'fits' : 'undecided';
}

function weightLimitsWords(
  input: WeightLimitsInput,
  output: Omit<WeightLimitsOutput, 'words'>,
): string {
  const print = (value: number) => roundNumberText(value, 4, 'half-even').replace(/\.?0+$/, '');
  const limit = `A ${input.nominalMass} weight of class ${input.weightClass} may err by ${print(output.limitMilligrams)} mg; its calibration needs an expanded uncertainty of at most ${print(output.greatestExpandedUncertaintyMilligrams)} mg.`;
  if (input.errorMilligrams === undefined) return limit;
  const assumed =
    input.expandedUncertaintyMilligrams === undefined
      ? ' with the greatest uncertainty allowed'
      : '';
  const result = {
    fits: `fits: at most ${print(output.innerLimitMilligrams)} mg is accepted`,
    undecided:
      output.isUncertaintySmallEnough === false
        ? 'cannot be judged: the uncertainty exceeds one third of the limit'
        : `is not accepted: beyond ${print(output.innerLimitMilligrams)} mg the uncertainty leaves it open`,
    'does not fit': 'does not fit: even with its uncertainty it lies beyond the limit',
  }[output.verdict ?? 'undecided'];
  const finest =
    output.finestClass === null ? '' : ` The finest class it fits is ${output.finestClass}.`;
  return `${limit} The error of ${print(input.errorMilligrams)} mg${assumed} ${result}.${finest}`;
}

/**
 * Limits of a weight of an accuracy class, and whether a calibrated weight fits it.
 *
 * Formula: fits when |mc − m0| ≤ limit − U with U ≤ limit/3 (k = 2); does not fit when |mc − m0| >
 * limit + U; else undecided.
 *
 * @param input nominal mass of the 1-2-5 series from 1 mg to 5000 kg; class; error in mg; expanded
 *   uncertainty in mg, one third of the limit when absent
 * @returns limits in mg, verdict in this class and in every class, finest class that fits
 * @throws DomainError when the class has no weight of this nominal mass
 * Validity: compared exactly in the decimals given. See reference/oiml-r111. The state undecided is
 * ours: the recommendation accepts or does not.
 * Source: OIML R 111-1:2004, Table 1; 5.2 and 5.3 (both from memory)
 * @example weightLimits({ nominalMass: '10 g', weightClass: 'F2', errorMilligrams: 0.4 })
 *   .verdict // 'fits'
 */
export function weightLimits(input: WeightLimitsInput): WeightLimitsOutput {
  const { nominalMass, weightClass } = input;
  const text = weightLimitMilligrams(nominalMass, weightClass);
  const offered = weightClasses.filter((one) => weightLimitMilligrams(nominalMass, one) !== null);
  requireDomain(text !== null, {
    field: 'weightClass',
    value: weightClass,
    accepted: `for ${nominalMass} one of ${offered.join(', ')}`,
  });
  const limit = decimalOfText(text);
  const { errorMilligrams, expandedUncertaintyMilligrams } = input;
  const error = errorMilligrams === undefined ? null : decimalOfNumber(errorMilligrams);
  const uncertainty =
    expandedUncertaintyMilligrams === undefined
      ? null
      : decimalOfNumber(expandedUncertaintyMilligrams);
  const limits = offered.map((one) => {
    const value = decimalOfText(weightLimitMilligrams(nominalMass, one) ?? '0');
    return {
      weightClass: one,
      limitMilligrams: numberOfDecimal(value),
      verdict: verdictOf(value, error, uncertainty),
    };
  });
  const limitMilligrams = numberOfDecimal(limit);
  const output = {
    limitMilligrams,
    greatestExpandedUncertaintyMilligrams: limitMilligrams / 3,
    isUncertaintySmallEnough:
      uncertainty === null
        ? null
        : compareDecimals(multiplyDecimals([three, uncertainty]), limit) <= 0,
    innerLimitMilligrams:
      uncertainty === null
        ? (2 * limitMilligrams) / 3
        : numberOfDecimal(subtractDecimals(limit, uncertainty)),
    verdict: verdictOf(limit, error, uncertainty),
    finestClass: limits.find((one) => one.verdict === 'fits')?.weightClass ?? null,
    limits,
  };
  return { ...output, words: weightLimitsWords(input, output) };
}

function drawWeightLimits(
  input: WeightLimitsInput,
  output: WeightLimitsOutput,
): (Chart | LimitRule)[] {
  if (input.errorMilligrams === undefined) return [];
  const uncertainty =
    input.expandedUncertaintyMilligrams ?? output.greatestExpandedUncertaintyMilligrams;
  return [
    {
      kind: 'limit-rule',
      title: `Error of the ${input.nominalMass} weight, class ${input.weightClass}`,
      unit: 'mg',
      value: input.errorMilligrams,
      expandedUncertainty: uncertainty,
      lowerLimit: -output.limitMilligrams,
      upperLimit: output.limitMilligrams,
      guardBand: uncertainty,
      words: output.words,
    },
  ];
}

export const weightLimitsCalculation = defineCalculation<WeightLimitsInput, WeightLimitsOutput>({
  id: 'weight-limits',
  version: 1,
  topic: 'mass',
  title: 'Limits of weights',
  purpose:
    'Gives the maximum permissible error of a weight of a class, how well it must be calibrated, and whether a calibrated weight fits the class.',
  source: 'OIML R 111-1:2004, Table 1; 5.2 and 5.3 as remembered',
  input: weightLimitsInput,
  output: weightLimitsOutput,
  // See reference/oiml-r111: limit 5.0 mg, accepted up to 3.333 mg, so 4.1 mg is not accepted.
  example: { nominalMass: '1 kg', weightClass: 'F1', errorMilligrams: 4.1 },
  compute: weightLimits,
  draw: drawWeightLimits,
});

export { nominalMasses, type WeightClass, weightClasses, weightLimitMilligrams };
