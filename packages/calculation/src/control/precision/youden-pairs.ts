import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { upperFisherProbability } from '../../quantity/fisher.ts';
import { medianOf } from '../../quantity/median.ts';
import { normalQuantile } from '../../quantity/normal.ts';
import { probabilityText } from '../../quantity/probability-text.ts';
import { modifiedLargeSampleInterval } from './component-intervals.ts';
import {
  ellipseOf,
  type PairScatter,
  pairDistance,
  pairDistanceLimit,
  pairScatter,
} from './pair-scatter.ts';
import { inWords, listInWords, measured } from './precision-fields.ts';
import {
  type YoudenPairsInput,
  type YoudenPairsOutput,
  youdenPairsInput,
  youdenPairsOutput,
} from './youden-pairs-schema.ts';

export {
  type YoudenPairsInput,
  type YoudenPairsOutput,
  youdenPairsInput,
  youdenPairsOutput,
} from './youden-pairs-schema.ts';

type Laboratory = YoudenPairsInput['laboratories'][number];
type LaboratoryRow = YoudenPairsOutput['laboratories'][number];

/** Scatter across the line (within laboratories) and along it (both components), as variances. */
function variancesOf(scatter: PairScatter): { within: number; along: number } {
  const both = (scatter.firstVariance + scatter.secondVariance) / 2;
  return { within: both - scatter.covariance, along: both + scatter.covariance };
}

type Components = Pick<
  YoudenPairsOutput,
  | 'withinStandardDeviation'
  | 'withinLower'
  | 'withinUpper'
  | 'totalStandardDeviation'
  | 'betweenStandardDeviation'
  | 'isBetweenVarianceNegative'
  | 'betweenLower'
  | 'betweenUpper'
  | 'ratio'
  | 'probability'
>;

function componentsOf(scatter: PairScatter, confidence: number): Components {
  const { within, along } = variancesOf(scatter);
  const degreesOfFreedom = scatter.count - 1;
  const own = { coefficient: 1, meanSquare: Math.max(0, within), degreesOfFreedom };
  const whole = { coefficient: 0.5, meanSquare: Math.max(0, along), degreesOfFreedom };
  const withinEnds = modifiedLargeSampleInterval([own], confidence);
  const betweenEnds = modifiedLargeSampleInterval(
    [whole, { ...own, coefficient: -0.5 }],
    confidence,
  );
  const ratio = within > 0 ? along / within : null;
  return {
    withinStandardDeviation: Math.sqrt(own.meanSquare),
    withinLower: Math.sqrt(withinEnds.lower),
    withinUpper: Math.sqrt(withinEnds.upper),
    totalStandardDeviation: Math.sqrt(whole.meanSquare),
    betweenStandardDeviation: Math.sqrt(Math.max(0, (along - within) / 2)),
    isBetweenVarianceNegative: along < within,
    betweenLower: Math.sqrt(betweenEnds.lower),
    betweenUpper: Math.sqrt(betweenEnds.upper),
    ratio,
    probability:
      ratio === null ? null : upperFisherProbability(ratio, degreesOfFreedom, degreesOfFreedom),
  };
}

interface Centre {
  readonly first: number;
  readonly second: number;
}

function faultOf(along: number, across: number, limit: number): LaboratoryRow['fault'] {
  const isSystematic = Math.abs(along) > limit;
  const isRandom = Math.abs(across) > limit;
  if (isSystematic && isRandom) return 'both';
  if (isSystematic) return 'systematic';
  return isRandom ? 'random' : 'none';
}

function laboratoryRow(
  laboratory: Laboratory,
  centre: Centre,
  scatter: PairScatter,
  limits: { within: number; distance: number },
): LaboratoryRow {
  const [a, b] = [laboratory.first - centre.first, laboratory.second - centre.second];
  const along = (a + b) / Math.SQRT2;
  const across = (a - b) / Math.SQRT2;
  const ellipseRatio = pairDistance(scatter, laboratory.first, laboratory.second) / limits.distance;
  return {
    name: laboratory.name,
    isUsed: !laboratory.isExcluded,
    along,
    across,
    ellipseRatio,
    isOutsideEllipse: ellipseRatio > 1,
    fault: faultOf(along, across, limits.within),
  };
}

function pairsWords(input: YoudenPairsInput, output: Omit<YoudenPairsOutput, 'words'>): string {
  const { unit } = input;
  const lines = [
    `Within a laboratory results scatter by ${measured(output.withinStandardDeviation, unit)}, between laboratories by ${measured(output.betweenStandardDeviation, unit)}.`,
  ];
  if (output.probability !== null) {
    lines.push(
      output.probability < 0.05
        ? `Laboratories have errors of their own (F ${inWords(output.ratio ?? 0)}, probability ${probabilityText(output.probability)}).`
        : `No errors of whole laboratories are shown (F ${inWords(output.ratio ?? 0)}, probability ${probabilityText(output.probability)}).`,
    );
  }
  const outside = output.laboratories.filter((row) => row.isUsed && row.isOutsideEllipse);
  if (outside.length > 0) {
    const named = outside.map((row) =>
      // An error in one sample alone lies as far across the line as along it.
      2 * Math.abs(row.across) > Math.abs(row.along)
        ? `${row.name} (across the line: an error in one sample, or the samples exchanged)`
        : `${row.name} (along the line: an error in both samples)`,
    );
    lines.push(`Outside the ellipse: ${listInWords(named)}.`);
  } else lines.push('No laboratory is outside the ellipse.');
  return lines.join(' ');
}

/**
 * Two-sample plot: each laboratory measures two similar samples once; what both share is its own
 * systematic error, what they do not share is scatter.
 *
 * Formula: s_w² = Σ(D − D̄)²/(2(n − 1)) of the differences D, s_t² the same of the totals, s_b² = (s_t² − s_w²)/2,
 * 0 where negative; F = s_t²/s_w² with n − 1 degrees of freedom each. Circle of radius s_w·√(−2·ln(1 − p)) about the
 * medians; ellipse of the normal distribution of pairs that one laboratory is outside of with
 * probability 1 − p. Along and across are (a + b)/√2 and (a − b)/√2 from the medians.
 *
 * @param input 4 or more laboratories that are not left out, one result each on two samples of similar
 *   level in one unit; confidence in %
 * @returns components with intervals, each laboratory's place and kind of deviation, ellipse, not
 *   rounded
 * @throws DomainError for fewer than 4 laboratories used or pairs on one line
 * Validity: scatter alike in both samples; levels may differ, since differences are taken about
 * their mean. See reference/youden-pairs.
 * Source: W. J. Youden (1959), Industrial Quality Control 15(11), 24-28; ISO 13528:2022, 10.5
 * @example youdenPairs(youdenPairsCalculation.example).correlation // 0.8994488
 */
export function youdenPairs(input: YoudenPairsInput): YoudenPairsOutput {
  const used = input.laboratories.filter((laboratory) => !laboratory.isExcluded);
  requireDomain(used.length >= 4, {
    field: 'laboratories',
    value: `${used.length} used`,
    accepted: 'at least 4 laboratories that are not left out',
  });
  const scatter = pairScatter(used.map(({ first, second }) => [first, second] as const));
  const { firstVariance, secondVariance, covariance } = scatter;
  requireDomain(
    firstVariance * secondVariance - covariance ** 2 > 1e-14 * firstVariance * secondVariance,
    {
      field: 'laboratories',
      value: 'results that lie on one line',
      accepted: 'results that vary in both samples, not on one line',
    },
  );
  const confidence = input.confidencePercent / 100;
  const centre = {
    first: medianOf(used.map((laboratory) => laboratory.first)),
    second: medianOf(used.map((laboratory) => laboratory.second)),
  };
  const components = componentsOf(scatter, confidence);
  const distance = pairDistanceLimit(used.length, 1 - confidence);
  const within = normalQuantile((1 + confidence) / 2) * components.withinStandardDeviation;
  const output = {
    laboratoryCount: used.length,
    firstMedian: centre.first,
    secondMedian: centre.second,
    firstMean: scatter.firstMean,
    secondMean: scatter.secondMean,
    firstStandardDeviation: Math.sqrt(firstVariance),
    secondStandardDeviation: Math.sqrt(secondVariance),
    correlation: covariance / Math.sqrt(firstVariance * secondVariance),
    ...components,
    circleRadius: components.withinStandardDeviation * Math.sqrt(-2 * Math.log(1 - confidence)),
    laboratories: input.laboratories.map((laboratory) =>
      laboratoryRow(laboratory, centre, scatter, { within, distance }),
    ),
    ellipse: ellipseOf(scatter, distance),
  };
  return { ...output, words: pairsWords(input, output) };
}

function drawPairs(input: YoudenPairsInput, output: YoudenPairsOutput): Chart[] {
  const points = input.laboratories.map((laboratory, index) => ({
    x: laboratory.first,
    y: laboratory.second,
    row: output.laboratories[index],
  }));
  const series = (label: string, holds: (row: LaboratoryRow) => boolean, standsOut: boolean) => {
    const chosen = points.filter(({ row }) => row !== undefined && holds(row));
    return {
      label,
      kind: 'points' as const,
      x: chosen.map(({ x }) => x),
      y: chosen.map(({ y }) => y),
      standsOut,
    };
  };
  const reach = 2 * Math.max(output.firstStandardDeviation, output.secondStandardDeviation);
  return [
    {
      kind: 'chart',
      title: `Two-sample plot: ${input.characteristic}`,
      xTitle: `First sample, ${input.unit}`,
      yTitle: `Second sample, ${input.unit}`,
      series: [
        series('inside', (row) => row.isUsed && !row.isOutsideEllipse, false),
        series('outside', (row) => row.isUsed && row.isOutsideEllipse, true),
        series('left out', (row) => !row.isUsed, false),
        {
          label: 'ellipse',
          kind: 'line',
          x: output.ellipse.first,
          y: output.ellipse.second,
        },
        {
          label: '45°',
          kind: 'line',
          x: [output.firstMedian - reach, output.firstMedian + reach],
          y: [output.secondMedian - reach, output.secondMedian + reach],
        },
      ],
      marks: [{ x: output.firstMedian, label: 'median' }],
      levels: [{ y: output.secondMedian, label: 'median' }],
    },
  ];
}

/** Results of thirty laboratories on two samples: example of ASTM E2489-06. */
const twoSamples = [
  [1.22, 1.26],
  [1.62, 1.91],
  [1.82, 1.2],
  [0.6, 1.0],
  [2.75, 2.41],
  [1.55, 1.26],
  [1.17, 1.57],
  [1.76, 1.28],
  [1.35, 0.93],
  [1.18, 1.21],
  [1.19, 1.26],
  [1.71, 0.42],
  [2.03, 2.21],
  [1.1, 1.33],
  [1.84, 1.81],
  [1.39, 1.12],
  [1.13, 1.08],
  [1.66, 1.45],
  [1.28, 1.2],
  [1.24, 0.71],
  [0.69, 0.77],
  [1.54, 1.39],
  [1.43, 1.52],
  [0.84, 1.27],
  [0.98, 0.99],
  [1.97, 2.24],
  [4.89, 5.28],
  [1.85, 1.78],
  [1.09, 1.2],
  [1.07, 1.24],
] as const;

export const youdenPairsCalculation = defineCalculation<YoudenPairsInput, YoudenPairsOutput>({
  id: 'youden-pairs',
  version: 1,
  topic: 'control',
  title: 'Two-sample plot of laboratories',
  purpose:
    'Whether laboratories differ by errors of their own or only by scatter, from one result each on two similar samples.',
  source: 'W. J. Youden (1959), Industrial Quality Control 15(11), 24-28; ISO 13528:2022, 10.5',
  input: youdenPairsInput,
  output: youdenPairsOutput,
  // Example data of ASTM E2489-06: correlation 0.899, medians 1.37 and 1.26.
  example: {
    characteristic: 'Content',
    unit: '1',
    laboratories: twoSamples.map(([first, second], index) => ({
      name: `Laboratory ${index + 1}`,
      first,
      second,
      isExcluded: false,
    })),
    confidencePercent: 95,
  },
  compute: youdenPairs,
  draw: drawPairs,
});
