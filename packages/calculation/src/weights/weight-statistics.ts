import beta from '@stdlib/stats-base-dists-beta';
import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution } from '../quantity/normal.ts';
import { sampleMoments, sampleQuantile } from '../quantity/sample-moments.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { histogram } from './histogram.ts';
import { judgeNormalShape } from './normal-shape.ts';

const aMass = 'a mass above 0 g';
const massField = (title: string, description: string) =>
  z.number(aMass).positive(aMass).meta({ title, description, unit: 'g' });

export const weightStatisticsInput = z.strictObject({
  massesGrams: z
    .array(massField('Mass', 'Mass of one piece'), 'a list of masses')
    .min(1, 'at least one mass')
    .max(1_000_000, 'at most 1000000 masses')
    .meta({ title: 'Masses', description: 'Masses of single pieces, in any order', unit: 'g' }),
  lowerLimitGrams: massField('Lower limit', 'Least mass that a piece may have').optional(),
  upperLimitGrams: massField('Upper limit', 'Greatest mass that a piece may have').optional(),
  declaredMassGrams: massField('Declared mass', 'Mass that the purchaser is promised').optional(),
});

export type WeightStatisticsInput = z.infer<typeof weightStatisticsInput>;

const grams = (title: string) => z.number().meta({ title, unit: 'g' });
const gramsOrNull = (title: string) => z.number().nullable().meta({ title, unit: 'g' });
const pieces = (title: string) => z.int().nullable().meta({ title, unit: 'pieces' });

export const weightStatisticsOutput = z.strictObject({
  countPieces: z.int().meta({ title: 'Pieces weighed', unit: 'pieces' }),
  meanGrams: grams('Mean'),
  standardDeviationGrams: gramsOrNull('Standard deviation'),
  minimumGrams: grams('Lightest piece'),
  maximumGrams: grams('Heaviest piece'),
  medianGrams: grams('Median'),
  quantiles: z
    .array(
      z.strictObject({
        probability: z.number().meta({ title: 'Fraction at or below' }),
        massGrams: grams('Mass'),
      }),
    )
    .meta({ title: 'Quantiles, linear between neighbours (Hyndman and Fan, rule 7)' }),
  skewness: z.number().nullable().meta({ title: 'Skewness' }),
  kurtosis: z.number().nullable().meta({ title: 'Kurtosis, 3 for a normal distribution' }),
  belowLowerLimitPieces: pieces('Pieces below the lower limit'),
  aboveUpperLimitPieces: pieces('Pieces above the upper limit'),
  belowDeclaredMassPieces: pieces('Pieces below the declared mass'),
  belowLowerLimitFractionBound: z
    .number()
    .nullable()
    .meta({ title: 'Fraction below the lower limit, upper 95 % bound, for any distribution' }),
  atOrAboveMinimumFractionBound: z.number().meta({
    title: 'Fraction at or above the lightest piece, lower 95 % bound, for any distribution',
  }),
  giveawayMeanGrams: gramsOrNull('Mean given away per piece'),
  giveawayTotalGrams: gramsOrNull('Given away in all'),
  giveawayPerMille: z.number().nullable().meta({ title: 'Given away', unit: '‰' }),
  normalTheory: z
    .enum(['usable', 'refused'])
    .meta({ title: 'Statements of normal theory about these masses' }),
  normalTheoryReason: z.string().meta({ title: 'Reason' }),
  belowLowerLimitNormalFraction: z
    .number()
    .nullable()
    .meta({ title: 'Fraction below the lower limit by normal theory, where usable' }),
  words: z.string().meta({ title: 'In words' }),
});

export type WeightStatisticsOutput = z.infer<typeof weightStatisticsOutput>;

const quantileProbabilities = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99];
const confidence = 0.95;

/**
 * Upper confidence bound of a fraction from a count, one-sided, for any distribution.
 *
 * Formula: the fraction p at which the binomial probability of a count as low as this or lower
 * falls to 0.05: the quantile 0.95 of the beta distribution with parameters x + 1 and n − x.
 *
 * @param found pieces found, whole, 0 to the number examined
 * @param examined pieces examined, 1 or more
 * @returns bound in (0, 1]
 * Validity: pieces drawn at random from a large lot; exact, never too low.
 * Source: C. J. Clopper and E. S. Pearson (1934), Biometrika 26, 404-413
 * @example fractionUpperBound(0, 100) // 0.02951
 */
export function fractionUpperBound(found: number, examined: number): number {
  return found >= examined ? 1 : beta.quantile(confidence, found + 1, examined - found);
}

function compareWithDeclared(masses: readonly number[], declared: number | undefined) {
  if (declared === undefined) {
    return {
      belowDeclaredMassPieces: null,
      giveawayMeanGrams: null,
      giveawayTotalGrams: null,
      giveawayPerMille: null,
    };
  }
  const giveawayTotalGrams = compensatedSum(masses.map((mass) => mass - declared));
  return {
    belowDeclaredMassPieces: masses.filter((mass) => mass < declared).length,
    giveawayMeanGrams: giveawayTotalGrams / masses.length,
    giveawayTotalGrams,
    giveawayPerMille: (1000 * giveawayTotalGrams) / (masses.length * declared),
  };
}

function describeWeights(output: Omit<WeightStatisticsOutput, 'words'>): string {
  const sentences = [
    `${output.countPieces} pieces, ${output.minimumGrams} g to ${output.maximumGrams} g.`,
  ];
  const low = output.belowLowerLimitPieces;
  if (low !== null) {
    sentences.push(low === 0 ? 'None is below the lower limit.' : `${low} below the lower limit.`);
  }
  const high = output.aboveUpperLimitPieces;
  if (high !== null) {
    sentences.push(
      high === 0 ? 'None is above the upper limit.' : `${high} above the upper limit.`,
    );
  }
  sentences.push(
    output.normalTheory === 'usable'
      ? `Normal theory may be used: ${output.normalTheoryReason}.`
      : `Normal theory is refused: ${output.normalTheoryReason}.`,
  );
  return sentences.join(' ');
}

/**
 * What the masses of single pieces say: their middle, spread and ends, the pieces outside the
 * limits, and the metal given away; it serves the receipt of blanks, which the supplier may have
 * sorted.
 *
 * Formula: mean, standard deviation with divisor n − 1, quantiles by linear interpolation between
 * neighbours at (n − 1)·p (rule 7 of Hyndman and Fan), counts strictly outside the limits. The
 * bounds hold for any distribution: for the fraction below the limit Clopper and Pearson, for the
 * fraction at or above the lightest piece 0.05^(1/n). The fraction by normal theory is given only
 * when the shape of the masses allows it, see `judgeNormalShape`. Given away: mass − declared mass.
 *
 * @param input masses of 1 or more pieces in grams, above 0, in any order; limits and declared mass
 * in grams, above 0, each may be absent
 * @returns figures in grams, not rounded; null for what was not asked or cannot be said
 * @throws DomainError for a lower limit above the upper one
 * Validity: the bounds assume pieces drawn at random from a large lot. Shown in
 * reference/euro-coin-weights and reference/pyx-1848.
 * Source: R. J. Hyndman and Y. Fan (1996), The American Statistician 50(4), 361-365; C. J. Clopper
 * and E. S. Pearson (1934), Biometrika 26, 404-413; D'Agostino and Stephens (1986), chapter 4
 * @example weightStatistics({ massesGrams: [7.512, 7.502, 7.461, 7.562] }).medianGrams // 7.507
 */
export function weightStatistics(input: WeightStatisticsInput): WeightStatisticsOutput {
  const { massesGrams, lowerLimitGrams: lower, upperLimitGrams: upper } = input;
  requireDomain(lower === undefined || upper === undefined || lower <= upper, {
    field: 'lowerLimitGrams',
    value: lower,
    accepted: `a mass up to the upper limit of ${upper} g`,
  });
  const ascending = [...massesGrams].sort((a, b) => a - b);
  const count = ascending.length;
  const moments = sampleMoments(ascending);
  const shape = judgeNormalShape(ascending);
  const belowLowerLimitPieces =
    lower === undefined ? null : ascending.filter((mass) => mass < lower).length;
  const output = {
    countPieces: count,
    meanGrams: moments.mean,
    standardDeviationGrams: moments.standardDeviation,
    minimumGrams: ascending[0] as number,
    maximumGrams: ascending[count - 1] as number,
    medianGrams: sampleQuantile(ascending, 0.5),
    quantiles: quantileProbabilities.map((probability) => ({
      probability,
      massGrams: sampleQuantile(ascending, probability),
    })),
    skewness: moments.skewness,
    kurtosis: moments.kurtosis,
    belowLowerLimitPieces,
    aboveUpperLimitPieces:
      upper === undefined ? null : ascending.filter((mass) => mass > upper).length,
    belowLowerLimitFractionBound:
      belowLowerLimitPieces === null ? null : fractionUpperBound(belowLowerLimitPieces, count),
    atOrAboveMinimumFractionBound: (1 - confidence) ** (1 / count),
    ...compareWithDeclared(ascending, input.declaredMassGrams),
    normalTheory: shape.normalTheory,
    normalTheoryReason: shape.reason,
    belowLowerLimitNormalFraction:
      shape.normalTheory === 'usable' && lower !== undefined && moments.standardDeviation
        ? normalDistribution(lower, moments.mean, moments.standardDeviation)
        : null,
  };
  return { ...output, words: describeWeights(output) };
}

function drawWeights(input: WeightStatisticsInput): Chart[] {
  const bars = histogram(input.massesGrams);
  const marks = [
    { x: input.lowerLimitGrams, label: 'lower limit' },
    { x: input.declaredMassGrams, label: 'declared' },
    { x: input.upperLimitGrams, label: 'upper limit' },
  ].flatMap(({ x, label }) => (x === undefined ? [] : [{ x, label }]));
  return [
    {
      kind: 'chart',
      title: 'Masses of the pieces',
      xTitle: 'Mass, g',
      yTitle: 'Pieces',
      series: [{ label: 'pieces', kind: 'bars', x: bars.centres, y: bars.counts }],
      marks,
    },
  ];
}

export const weightStatisticsCalculation = defineCalculation({
  id: 'weight-statistics',
  version: 1,
  topic: 'weights',
  title: 'Statistics of weights',
  purpose:
    'What the masses of single pieces say: middle, spread, lightest and heaviest, pieces outside the limits, metal given away; safe for blanks that were sorted by mass.',
  source:
    "R. J. Hyndman and Y. Fan (1996), The American Statistician 50(4), quantile rule 7; C. J. Clopper and E. S. Pearson (1934), Biometrika 26; R. B. D'Agostino and M. A. Stephens (1986), Goodness-of-Fit Techniques, chapter 4; limits of the shape tests are common practice",
  input: weightStatisticsInput,
  output: weightStatisticsOutput,
  // The first coins of package 1 of the open data set in reference/euro-coin-weights.
  example: {
    massesGrams: [
      7.512, 7.502, 7.461, 7.562, 7.528, 7.459, 7.518, 7.537, 7.517, 7.605, 7.567, 7.551, 7.486,
      7.528, 7.525, 7.581, 7.497, 7.548, 7.553, 7.544, 7.468, 7.539, 7.537, 7.554, 7.455, 7.459,
      7.534, 7.467, 7.504, 7.508,
    ],
    lowerLimitGrams: 7.4,
    upperLimitGrams: 7.6,
    declaredMassGrams: 7.5,
  },
  compute: weightStatistics,
  draw: drawWeights,
});
