import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDistribution, normalQuantile } from '../quantity/normal.ts';
import { probabilityText } from '../quantity/probability-text.ts';
import { sampleMoments } from '../quantity/sample-moments.ts';
import { shapiroWilk } from './normality-shapiro-wilk.ts';

/** Fewer measurements than this show next to nothing of their shape. */
const leastForShape = 8;
/** Level of the general test. */
const shapeLevel = 0.02;
/**
 * Φ(d)ⁿ takes mean and deviation as known; with those of the sample itself the limits that one normal
 * sample in a hundred falls below were found by simulation (laws/variables).
 */
const oneEndLimit = (count: number): number => 0.25 / Math.sqrt(count);
const bothEndsLimit = (count: number): number => 1 / count;

/** What the measurements say about a normal distribution. */
export interface NormalityFinding {
  readonly verdict: 'contradicted' | 'not contradicted' | 'too few to tell';
  readonly reason: string;
  readonly statistic: number | null;
  readonly probability: number | null;
  /** Φ(d)ⁿ of the side that ends sooner, d the distance of its last value in deviations. */
  readonly shortEnd: number | null;
}

/** Moments of values that are not all equal. */
interface Shape {
  readonly mean: number;
  readonly standardDeviation: number;
  readonly skewness: number;
  readonly kurtosis: number;
}

/** Null where the values are equal and have no shape. */
function shapeOf(values: readonly number[]): Shape | null {
  const { mean, standardDeviation, skewness, kurtosis } = sampleMoments(values);
  if (standardDeviation === null || skewness === null || kurtosis === null) return null;
  return { mean, standardDeviation, skewness, kurtosis };
}

/** Which departure stands out most, in the words of the trade. */
function feature({ skewness, kurtosis }: Shape): string {
  // 5/9 belongs to a uniform distribution; two heaps lie above it.
  if ((skewness ** 2 + 1) / kurtosis > 5 / 9) {
    return 'two heaps, as from two sortings, or values spread evenly as if sorted';
  }
  if (kurtosis < 2.5) return 'ends that are cut off, as if the pieces had been sorted';
  if (Math.abs(skewness) > 0.5) {
    return skewness > 0 ? 'a long tail to the high side' : 'a long tail to the low side';
  }
  return kurtosis > 4 ? 'too many values far out' : 'a shape that is not normal';
}

const contradicted = (
  reason: string,
  figures: Pick<NormalityFinding, 'statistic' | 'probability' | 'shortEnd'>,
): NormalityFinding => ({ verdict: 'contradicted', reason, ...figures });

/** The ends of a sample, and in words when they lie too near to the mean. */
function endsOf(values: readonly number[], { mean, standardDeviation }: Shape) {
  const count = values.length;
  const low = (mean - Math.min(...values)) / standardDeviation;
  const high = (Math.max(...values) - mean) / standardDeviation;
  const ending = (distance: number): number =>
    Math.exp(count * Math.log1p(-normalDistribution(-distance, 0, 1)));
  const [lowEnd, highEnd] = [ending(low), ending(high)];
  const shortEnd = Math.min(lowEnd, highEnd);
  const side = lowEnd < highEnd ? 'low' : 'high';
  const distances = `${low.toFixed(2)} below and ${high.toFixed(2)} above the mean, in standard deviations`;
  const reason =
    shortEnd < oneEndLimit(count)
      ? `the ${side} side ends too soon, as if sorted (ends ${distances})`
      : lowEnd * highEnd < bothEndsLimit(count)
        ? `both sides end too soon, as if sorted or mixed from two sortings (ends ${distances})`
        : null;
  return { shortEnd, reason };
}

/**
 * Whether measurements contradict a normal distribution, as those of sorted blanks do: the light and
 * heavy ones cut out, or two sortings mixed.
 *
 * Formula: contradicted when the Shapiro–Wilk probability is below 0.02; when one side ends so near to the
 * mean that Φ(d)ⁿ, d the distance of its last value in standard deviations, is below 0.25/√n; or when the
 * product of both sides is below 1/n.
 *
 * @param values 1 to 5000 measurements, in any order
 * @returns verdict, reason in words, statistic and probabilities
 * @throws DomainError for an empty list or more than 5000 values
 * Validity: of truly normal samples about one in thirty is contradicted. Of samples cut one deviation
 * below the mean one in five is found with 30 pieces, half with 50, nineteen in twenty with 100; cut one
 * deviation to both sides one in four, six in ten and nearly all; two equal heaps four deviations apart
 * half, eight in ten and nearly all (simulated in laws/variables). Few measurements show little: then
 * know the distribution otherwise. Below eight nothing can be told.
 * Source: P. Royston (1995), Applied Statistics 44, 547-551; the limits of the ends by simulation, the
 * choice of levels is common practice
 * @example findNormality([1, 2, 3]).verdict // 'too few to tell'
 */
export function findNormality(values: readonly number[]): NormalityFinding {
  requireDomain(values.length > 0 && values.length <= 5000, {
    field: 'values',
    value: `${values.length} values`,
    accepted: 'from 1 to 5000 values',
  });
  const none = { statistic: null, probability: null, shortEnd: null };
  if (values.length < leastForShape) {
    const reason = `${values.length} values cannot show the shape; at least ${leastForShape} can begin to`;
    return { verdict: 'too few to tell', reason, ...none };
  }
  const shape = shapeOf(values);
  if (shape === null) {
    return contradicted('all values are equal: the readings do not show the spread', none);
  }
  const { statistic, probability } = shapiroWilk(values);
  const { shortEnd, reason: sorted } = endsOf(values, shape);
  const figures = { statistic, probability, shortEnd };
  if (sorted !== null) return contradicted(sorted, figures);
  if (probability < shapeLevel) {
    return contradicted(`${feature(shape)} (probability ${probabilityText(probability)})`, figures);
  }
  const reason = `nothing speaks against a normal distribution (probability ${probabilityText(probability)})`;
  return { verdict: 'not contradicted', reason, ...figures };
}

const listAccepted = 'a list of 1 to 5000 measurements';
const valueAccepted = 'a measurement from -1000000000 to 1000000000';

/** Measurements as the catalogue reads them, in one unit that the person knows. */
export const measurementList = z
  .array(
    z
      .number(valueAccepted)
      .min(-1e9, valueAccepted)
      .max(1e9, valueAccepted)
      .meta({ title: 'Measurement', description: 'In the unit of the limits' }),
    listAccepted,
  )
  .min(1, listAccepted)
  .max(5000, listAccepted);

export const normalityCheckInput = z.strictObject({
  measurements: measurementList.meta({ title: 'Measurements' }),
});

export type NormalityCheckInput = z.infer<typeof normalityCheckInput>;

const optional = (title: string) =>
  z.number().nullable().meta({ title, description: 'None when the values cannot be tested' });

export const normalityCheckOutput = z.strictObject({
  verdict: z
    .enum(['contradicted', 'not contradicted', 'too few to tell'])
    .meta({ title: 'Normal distribution' }),
  reason: z.string().meta({ title: 'Reason' }),
  statistic: optional('Shapiro–Wilk statistic'),
  probability: optional('Probability of a statistic as small for normal values'),
  shortEnd: optional('Normal probability of an end so near to the mean, the shorter side'),
  words: z.string().meta({ title: 'In words' }),
});

export type NormalityCheckOutput = z.infer<typeof normalityCheckOutput>;

/**
 * Check of whether measurements can be treated as normal, as plans by variables ask for.
 *
 * Formula: see `findNormality`.
 *
 * @param input 1 to 5000 measurements in one unit
 * @returns verdict, reason, statistic and probabilities
 * @throws DomainError never for an input of the stated shape
 * Validity: as `findNormality`. No test proves a normal distribution.
 * Source: P. Royston (1995), Applied Statistics 44, 547-551; the limits of the ends by simulation, the
 * choice of levels is common practice
 * @example normalityCheck({ measurements: [1, 2, 3] }).verdict // 'too few to tell'
 */
export function normalityCheck(input: NormalityCheckInput): NormalityCheckOutput {
  const found = findNormality(input.measurements);
  const said = {
    contradicted: 'Do not use normal theory for these measurements: ',
    'not contradicted': 'Normal theory may be used: ',
    'too few to tell': 'Whether normal theory may be used must be known otherwise: ',
  }[found.verdict];
  return { ...found, words: `${said}${found.reason}.` };
}

function drawNormality(input: NormalityCheckInput): Chart[] {
  const ascending = [...input.measurements].sort((one, other) => one - other);
  const scores = ascending.map((_, index) =>
    normalQuantile((index + 1 - 0.375) / (ascending.length + 0.25)),
  );
  return [
    {
      kind: 'chart',
      title: 'Measurements against normal scores: a straight line when normal',
      xTitle: 'Normal score',
      yTitle: 'Measurement',
      series: [{ label: 'measured', kind: 'points', x: scores, y: ascending }],
    },
  ];
}

export const normalityCheckCalculation = defineCalculation<
  NormalityCheckInput,
  NormalityCheckOutput
>({
  id: 'normality-check',
  version: 1,
  topic: 'sampling',
  title: 'May normal theory be used',
  purpose:
    'Says whether measurements contradict a normal distribution, as those of sorted or mixed blanks do; plans by variables stand on it.',
  source:
    'P. Royston (1995), Applied Statistics 44, 547-551; S. S. Shapiro and M. B. Wilk (1965), Biometrika 52, 591-611',
  input: normalityCheckInput,
  output: normalityCheckOutput,
  // Ten of the measurements of a published exercise, see reference/variables-plans.
  example: {
    measurements: [62_500, 60_500, 68_000, 59_000, 65_500, 62_000, 61_000, 69_000, 58_000, 64_500],
  },
  compute: normalityCheck,
  draw: drawNormality,
});
