import { type Chart, defineCalculation } from '../../catalogue/calculation.ts';
import { upperChiSquareQuantile } from '../../quantity/chi-square.ts';
import { requireDomain } from '../../quantity/domain.ts';
import { upperFisherQuantile } from '../../quantity/fisher.ts';
import { probabilityText } from '../../quantity/probability-text.ts';
import { modifiedLargeSampleInterval } from './component-intervals.ts';
import {
  type HomogeneityInput,
  type HomogeneityOutput,
  homogeneityInput,
  homogeneityOutput,
} from './homogeneity-schema.ts';
import { type OneWayAnalysis, oneWayAnalysis } from './one-way-analysis.ts';
import { inWords, measured } from './precision-fields.ts';

export {
  type HomogeneityInput,
  type HomogeneityOutput,
  homogeneityInput,
  homogeneityOutput,
} from './homogeneity-schema.ts';

/** Share of the standard deviation served that the units may differ by. */
const permittedShare = 0.3;

type Intervals = Pick<
  HomogeneityOutput,
  'betweenUnitLower' | 'betweenUnitUpper' | 'varianceRatioLower' | 'varianceRatioUpper'
>;

const noIntervals: Intervals = {
  betweenUnitLower: null,
  betweenUnitUpper: null,
  varianceRatioLower: null,
  varianceRatioUpper: null,
};

/** Intervals that hold for equal numbers of results. */
function intervalsOf(analysis: OneWayAnalysis, confidence: number): Intervals {
  const replicates = analysis.counts[0] as number;
  if (analysis.counts.some((count) => count !== replicates)) return noIntervals;
  const [between, within] = [analysis.degreesOfFreedomBetween, analysis.degreesOfFreedomWithin];
  const interval = modifiedLargeSampleInterval(
    [
      {
        coefficient: 1 / replicates,
        meanSquare: analysis.meanSquareBetween,
        degreesOfFreedom: between,
      },
      {
        coefficient: -1 / replicates,
        meanSquare: analysis.meanSquareWithin,
        degreesOfFreedom: within,
      },
    ],
    confidence,
  );
  const tail = (1 - confidence) / 2;
  const end = (upperProbability: number) =>
    analysis.ratio === null
      ? null
      : Math.max(
          0,
          (analysis.ratio / upperFisherQuantile(upperProbability, between, within) - 1) /
            replicates,
        );
  return {
    betweenUnitLower: Math.sqrt(interval.lower),
    betweenUnitUpper: Math.sqrt(interval.upper),
    varianceRatioLower: end(tail),
    varianceRatioUpper: end(1 - tail),
  };
}

type Check = Pick<HomogeneityOutput, 'permittedStandardDeviation' | 'checkLimit' | 'isSufficient'>;

/** The check for proficiency material, with room for the scatter of the estimate itself. */
function checkOf(analysis: OneWayAnalysis, found: number, served: number | undefined): Check {
  if (served === undefined) {
    return { permittedStandardDeviation: null, checkLimit: null, isSufficient: null };
  }
  const permitted = permittedShare * served;
  const [between, within] = [analysis.degreesOfFreedomBetween, analysis.degreesOfFreedomWithin];
  const first = upperChiSquareQuantile(0.05, between) / between;
  const second = (upperFisherQuantile(0.05, between, within) - 1) / analysis.effectiveCount;
  const checkLimit = Math.sqrt(first * permitted ** 2 + second * analysis.meanSquareWithin);
  return { permittedStandardDeviation: permitted, checkLimit, isSufficient: found <= checkLimit };
}

function homogeneityWords(
  input: HomogeneityInput,
  output: Omit<HomogeneityOutput, 'words'>,
): string {
  const { unit } = input;
  const first =
    output.probability === null
      ? 'Nothing varies within the units.'
      : output.ratio !== null && output.ratio > output.criticalRatio
        ? `The units differ: F ${inWords(output.ratio)} exceeds ${inWords(output.criticalRatio)}, probability ${probabilityText(output.probability)}.`
        : `No difference between the units is shown: F ${inWords(output.ratio ?? 0)}, probability ${probabilityText(output.probability)}.`;
  const second = `Between units ${measured(output.betweenUnitStandardDeviation, unit)}, repeatability ${measured(output.repeatabilityStandardDeviation, unit)}; take ${measured(output.homogeneityStandardUncertainty, unit)} as standard uncertainty from inhomogeneity.`;
  const negative = output.isBetweenUnitVarianceNegative
    ? ' The units agree better than their scatter lets expect: between them, 0 is taken.'
    : '';
  if (output.isSufficient === null || output.permittedStandardDeviation === null) {
    return `${first} ${second}${negative}`;
  }
  const third = output.isSufficient
    ? 'Homogeneous enough for its purpose.'
    : 'Not homogeneous enough for its purpose.';
  return `${first} ${second}${negative} ${third} Permitted ${measured(output.permittedStandardDeviation, unit)}.`;
}

/**
 * Homogeneity of a material: whether its units (bars, blanks, bottles) differ by more than the
 * scatter of the determinations, and how much uncertainty that leaves for any one unit.
 *
 * Formula: one-way analysis of variance; s_bb² = (MS between − MS within)/n₀, 0 where negative;
 * what scatter can hide u* = √(MS within/n₀)·(2/ν within)^¼; the larger of both is the uncertainty.
 * Interval of s_bb² by the modified large-sample method, of σ_bb²/σ_w² by (F/F_quantile − 1)/n. Check for
 * a standard deviation σ served: s_bb² at most F₁·(0.3σ)² + F₂·MS within, F₁ = χ²₀.₉₅/ν, F₂ = (F₀.₉₅ − 1)/n₀.
 *
 * @param input 2 or more units with their results in one unit of measurement, at least one with two;
 *   confidence in %; the standard deviation that the material serves, where known
 * @returns sums and mean squares, F and its probability, standard deviations and intervals, nothing
 *   rounded
 * @throws DomainError where no unit has two results
 * Validity: units drawn at random, determinations in random order, normal. F is right to 14 digits
 * and more on the certified sets of reference/nist-strd-anova. Intervals for equal numbers only.
 * Source: ISO 33405:2024, 7.7 and 7.8 (ISO Guide 35:2017); T. P. J. Linsinger and others (2001), Accreditation
 * and Quality Assurance 6, 20-25; ISO 13528:2022, B.2 for the check
 * @example homogeneity(homogeneityCalculation.example).ratio // 1.1804624
 */
export function homogeneity(input: HomogeneityInput): HomogeneityOutput {
  const counts = input.items.map((item) => item.results.length);
  requireDomain(
    counts.some((count) => count >= 2),
    { field: 'items', value: counts.join(', '), accepted: 'at least one unit with two results' },
  );
  const analysis = oneWayAnalysis(input.items.map((item) => item.results));
  const { meanSquareBetween, meanSquareWithin, effectiveCount } = analysis;
  const confidence = input.confidencePercent / 100;
  const between = (meanSquareBetween - meanSquareWithin) / effectiveCount;
  const found = Math.sqrt(Math.max(0, between));
  const hidden =
    Math.sqrt(meanSquareWithin / effectiveCount) * (2 / analysis.degreesOfFreedomWithin) ** 0.25;
  const total = analysis.sumOfSquaresBetween + analysis.sumOfSquaresWithin;
  const output = {
    itemCount: counts.length,
    resultCount: counts.reduce((sum, count) => sum + count, 0),
    mean: analysis.mean,
    sumOfSquaresBetween: analysis.sumOfSquaresBetween,
    sumOfSquaresWithin: analysis.sumOfSquaresWithin,
    degreesOfFreedomBetween: analysis.degreesOfFreedomBetween,
    degreesOfFreedomWithin: analysis.degreesOfFreedomWithin,
    meanSquareBetween,
    meanSquareWithin,
    ratio: analysis.ratio,
    criticalRatio: upperFisherQuantile(
      1 - confidence,
      analysis.degreesOfFreedomBetween,
      analysis.degreesOfFreedomWithin,
    ),
    probability: analysis.probability,
    determinationPercent: total > 0 ? (100 * analysis.sumOfSquaresBetween) / total : 0,
    effectiveReplicates: effectiveCount,
    repeatabilityStandardDeviation: Math.sqrt(meanSquareWithin),
    betweenUnitStandardDeviation: found,
    isBetweenUnitVarianceNegative: between < 0,
    hiddenStandardDeviation: hidden,
    homogeneityStandardUncertainty: Math.max(found, hidden),
    ...intervalsOf(analysis, confidence),
    ...checkOf(analysis, found, input.assessmentStandardDeviation),
  };
  return { ...output, words: homogeneityWords(input, output) };
}

function drawHomogeneity(input: HomogeneityInput, output: HomogeneityOutput): Chart[] {
  const analysis = oneWayAnalysis(input.items.map((item) => item.results));
  const x = analysis.means.map((_, index) => index + 1);
  const tail = (1 - input.confidencePercent / 100) / 2;
  const factor = Math.sqrt(upperFisherQuantile(2 * tail, 1, analysis.degreesOfFreedomWithin));
  const half = analysis.counts.map(
    (count) => factor * Math.sqrt(analysis.meanSquareWithin / count),
  );
  const means = {
    label: 'mean',
    kind: 'points' as const,
    x,
    y: analysis.means,
    lower: analysis.means.map((mean, index) => mean - (half[index] as number)),
    upper: analysis.means.map((mean, index) => mean + (half[index] as number)),
  };
  const readings = input.items.flatMap((item, index) =>
    item.results.slice(0, 200).map((y) => ({ x: index + 1, y })),
  );
  return [
    {
      kind: 'chart',
      title: `Units of the material: ${input.characteristic}`,
      xTitle: 'Unit',
      yTitle: `${input.characteristic}, ${input.unit}`,
      series: [
        {
          label: 'results',
          kind: 'points',
          x: readings.map((point) => point.x),
          y: readings.map((point) => point.y),
        },
        means,
      ],
      levels: [{ y: output.mean, label: 'mean' }],
      xNames: input.items.map((item, index) => ({ x: index + 1, name: item.name })),
    },
  ];
}

/** Resistivity of silicon wafers with five instruments: NIST Statistical Reference Data, SiRstv. */
const waferResistivity = [
  [196.3052, 196.124, 196.189, 196.2569, 196.3403],
  [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
  [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
  [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
  [196.2119, 196.1051, 196.185, 196.0052, 196.209],
];

export const homogeneityCalculation = defineCalculation<HomogeneityInput, HomogeneityOutput>({
  id: 'homogeneity',
  version: 1,
  topic: 'control',
  title: 'Homogeneity between units',
  purpose:
    'Whether the bars, blanks or bottles of a material are alike enough, and what uncertainty their differences add.',
  source:
    'ISO 33405:2024, 7.7 and 7.8 (ISO Guide 35:2017); T. P. J. Linsinger and others (2001); ISO 13528:2022, Annex B',
  input: homogeneityInput,
  output: homogeneityOutput,
  // NIST StRD, analysis of variance, set SiRstv: F 1.18046237440255 certified.
  example: {
    characteristic: 'Resistivity',
    unit: 'ohm cm',
    items: waferResistivity.map((results, index) => ({ name: `Unit ${index + 1}`, results })),
    confidencePercent: 95,
  },
  compute: homogeneity,
  draw: drawHomogeneity,
});
