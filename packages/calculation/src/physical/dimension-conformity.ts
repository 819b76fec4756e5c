import { defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import { compareDecimals, decimalOfNumber, sumDecimals } from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { probabilityPercentText } from '../quantity/probability-text.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  type DimensionConformityInput,
  type DimensionConformityOutput,
  dimensionConformityInput,
  dimensionConformityOutput,
  verdicts,
} from './dimension-conformity-schema.ts';

export {
  type DimensionConformityInput,
  type DimensionConformityOutput,
  dimensionConformityInput,
  dimensionConformityOutput,
} from './dimension-conformity-schema.ts';

type Dimension = DimensionConformityInput['dimensions'][number];

/** Probability below which nothing is proven, in the later edition of the rule. */
const requiredProbability = 0.95;

/** Probabilities that the true size at a reading conforms, and that it does not: tails kept. */
function probabilitiesAt(one: Dimension, reading: number): { inside: number; outside: number } {
  const u = one.standardUncertaintyMillimetres;
  const below =
    one.lowerLimitMillimetres === undefined
      ? 0
      : normalDistribution(one.lowerLimitMillimetres, reading, u);
  const above =
    one.upperLimitMillimetres === undefined
      ? 0
      : normalDistribution(-one.upperLimitMillimetres, -reading, u);
  return { inside: Math.max(0, 1 - below - above), outside: below + above };
}

/** Whether a reading less and plus U stays within both limits, exact in the decimals read. */
function judgeByExpandedUncertainty(one: Dimension, reading: number): (typeof verdicts)[number] {
  const { lowerLimitMillimetres: lower, upperLimitMillimetres: upper } = one;
  const u = decimalOfNumber(one.standardUncertaintyMillimetres);
  const expanded = sumDecimals([u, u]);
  const minus = { ...expanded, coefficient: -expanded.coefficient };
  const read = decimalOfNumber(reading);
  const low = sumDecimals([read, minus]);
  const high = sumDecimals([read, expanded]);
  const above = (value: typeof low, limit: number | undefined) =>
    limit === undefined ? 1 : compareDecimals(value, decimalOfNumber(limit));
  const below = (value: typeof low, limit: number | undefined) =>
    limit === undefined ? -1 : compareDecimals(value, decimalOfNumber(limit));
  if (above(low, lower) >= 0 && below(high, upper) <= 0) return 'conforms';
  return above(high, lower) < 0 || below(low, upper) > 0 ? 'does not conform' : 'undecided';
}

function judgeByProbability(one: Dimension, reading: number): (typeof verdicts)[number] {
  const { inside, outside } = probabilitiesAt(one, reading);
  if (inside >= requiredProbability) return 'conforms';
  return outside >= requiredProbability ? 'does not conform' : 'undecided';
}

/** The worse of two verdicts. */
function worse(first: (typeof verdicts)[number], second: (typeof verdicts)[number]) {
  return verdicts.indexOf(second) > verdicts.indexOf(first) ? second : first;
}

function requireLimits(one: Dimension, index: number): void {
  const { lowerLimitMillimetres: lower, upperLimitMillimetres: upper } = one;
  requireDomain(lower !== undefined || upper !== undefined, {
    field: `dimensions.${index}.lowerLimitMillimetres`,
    value: lower,
    accepted: 'a lower limit, an upper limit, or both',
  });
  requireDomain(lower === undefined || upper === undefined || lower < upper, {
    field: `dimensions.${index}.lowerLimitMillimetres`,
    value: lower,
    accepted: `a lower limit below the upper limit ${upper} mm`,
  });
}

function judgeDimension(rule: DimensionConformityInput['rule'], one: Dimension, index: number) {
  requireLimits(one, index);
  const smallest = Math.min(...one.readingsMillimetres);
  const largest = Math.max(...one.readingsMillimetres);
  const judge = rule === 'expanded uncertainty' ? judgeByExpandedUncertainty : judgeByProbability;
  const outside = (reading: number) => probabilitiesAt(one, reading).outside;
  const worst = outside(smallest) > outside(largest) ? smallest : largest;
  const { lowerLimitMillimetres: lower, upperLimitMillimetres: upper } = one;
  return {
    label: one.label,
    smallestMillimetres: smallest,
    largestMillimetres: largest,
    worstMillimetres: worst,
    conformanceProbability: probabilitiesAt(one, worst).inside,
    uncertaintyRatioPercent:
      lower === undefined || upper === undefined
        ? null
        : (200 * one.standardUncertaintyMillimetres) / (upper - lower),
    verdict: worse(judge(one, smallest), judge(one, largest)),
  };
}

function dimensionWords(
  input: DimensionConformityInput,
  output: Omit<DimensionConformityOutput, 'words'>,
): string {
  const print = (value: number) => roundNumberText(value, 4, 'half-even').replace(/\.?0+$/, '');
  const each = output.dimensions.map(
    (one) =>
      `${one.label} ${print(one.worstMillimetres)} mm ${one.verdict === 'undecided' ? 'is undecided' : one.verdict} (probability of conforming ${probabilityPercentText(one.conformanceProbability, 1)}).`,
  );
  const end = {
    conforms: 'The piece conforms.',
    undecided: 'Neither is proven for the piece: measure with a better gauge or agree on it.',
    'does not conform': 'The piece does not conform.',
  }[output.verdict];
  return `${each.join(' ')} ${end} Rule: ${input.rule}.`;
}

/**
 * Dimensions of a piece against their limits, the uncertainty of the gauge counted against whoever
 * claims: conformity and nonconformity each need proof, and between them nothing is decided.
 *
 * Formula: by expanded uncertainty U = 2u: conforms when lower + U ≤ reading ≤ upper − U, does not
 * when reading < lower − U or > upper + U. By probability: conforms when P(lower ≤ size ≤ upper) ≥
 * 95 %, does not when P of the outside ≥ 95 %, size normal about the reading with u. Smallest and
 * largest reading decide, since every place must conform.
 *
 * @param input rule; 1 to 20 dimensions, each with readings in mm, one or two limits in mm and the
 *   standard uncertainty of one reading above 0 mm
 * @returns per dimension the deciding reading, its probability of conforming and a verdict; the
 *   worst verdict for the piece
 * @throws DomainError for a dimension without limits or with a lower limit not below the upper one
 * Validity: two-point sizes; error of the gauge normal, nothing known of the piece beforehand. The
 * first rule is compared exactly in the decimals given. See reference/iso-14253-1.
 * Source: ISO 14253-1:1998, clauses 5 and 6 (rule of the expanded uncertainty), ISO 14253-1:2017
 * (95 %), both from memory; ISO 14405-1:2016 (two-point size); JCGM 106:2012, 7 and 8
 * @example dimensionConformity({ rule: 'expanded uncertainty', dimensions: [{ label: 'diameter',
 *   readingsMillimetres: [32.69], lowerLimitMillimetres: 32.64, upperLimitMillimetres: 32.74,
 *   standardUncertaintyMillimetres: 0.005 }] }).verdict // 'conforms'
 */
export function dimensionConformity(input: DimensionConformityInput): DimensionConformityOutput {
  const dimensions = input.dimensions.map((one, index) => judgeDimension(input.rule, one, index));
  const verdict = dimensions.reduce<(typeof verdicts)[number]>(
    (worst, one) => worse(worst, one.verdict),
    'conforms',
  );
  const output = { dimensions, verdict };
  return { ...output, words: dimensionWords(input, output) };
}

function drawDimensions(
  input: DimensionConformityInput,
  output: DimensionConformityOutput,
): LimitRule[] {
  return input.dimensions.map((one, at): LimitRule => {
    const { lowerLimitMillimetres: lower, upperLimitMillimetres: upper } = one;
    const expanded = 2 * one.standardUncertaintyMillimetres;
    return {
      kind: 'limit-rule',
      title: one.label,
      unit: 'mm',
      value: output.dimensions[at]?.worstMillimetres ?? 0,
      expandedUncertainty: expanded,
      ...(lower === undefined ? {} : { lowerLimit: lower }),
      ...(upper === undefined ? {} : { upperLimit: upper }),
      guardBand: input.rule === 'expanded uncertainty' ? expanded : 0,
      words: `${one.label}: ${output.dimensions[at]?.verdict}`,
    };
  });
}

export const dimensionConformityCalculation = defineCalculation<
  DimensionConformityInput,
  DimensionConformityOutput
>({
  id: 'dimension-conformity',
  version: 1,
  topic: 'physical',
  title: 'Dimensions against their limits',
  purpose:
    'Judges diameter, thickness and edge readings against their limits with the uncertainty of the gauge: conforms, does not, or neither is proven.',
  source:
    'ISO 14253-1:1998, clauses 5 and 6, and ISO 14253-1:2017 (95 %), as remembered; ISO 14405-1:2016; JCGM 106:2012',
  input: dimensionConformityInput,
  output: dimensionConformityOutput,
  // Chosen: a diameter well inside, a thickness so near its limit that neither is proven.
  example: {
    rule: 'expanded uncertainty',
    dimensions: [
      {
        label: 'diameter',
        readingsMillimetres: [32.685, 32.69, 32.695],
        lowerLimitMillimetres: 32.64,
        upperLimitMillimetres: 32.74,
        standardUncertaintyMillimetres: 0.005,
      },
      {
        label: 'thickness',
        readingsMillimetres: [2.765, 2.79, 2.801],
        lowerLimitMillimetres: 2.7,
        upperLimitMillimetres: 2.81,
        standardUncertaintyMillimetres: 0.006,
      },
    ],
  },
  compute: dimensionConformity,
  draw: drawDimensions,
});
