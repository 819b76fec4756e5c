import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { controlPointOf, drawControlChart, numbersOutside } from './control-points.ts';
import {
  type CountLimits,
  type CountModel,
  exactCountLimits,
  sigmaCountLimits,
} from './count-limits.ts';
import {
  type CountedSample,
  isOfPieces,
  rateOf,
  requireCounts,
  samplesOf,
} from './counted-samples.ts';
import { namePoints, runSignals, tellSignals } from './run-signals.ts';
import {
  type ShewhartAttributesInput,
  type ShewhartAttributesOutput,
  shewhartAttributesInput,
  shewhartAttributesOutput,
} from './shewhart-attributes-schema.ts';

export {
  type ShewhartAttributesInput,
  type ShewhartAttributesOutput,
  shewhartAttributesInput,
  shewhartAttributesOutput,
} from './shewhart-attributes-schema.ts';

/** Limits of the count of each sample, computed once for each size. */
function limitsBySize(
  input: ShewhartAttributesInput,
  samples: readonly CountedSample[],
  rate: number,
): ReadonlyMap<number, CountLimits> {
  const { limitKind, data } = input;
  const modelOf = (size: number): CountModel =>
    isOfPieces(data)
      ? { kind: 'binomial', sizePieces: size, fraction: rate }
      : { kind: 'poisson', mean: rate * size };
  return new Map(
    [...new Set(samples.map((one) => one.size))].map((size) => [
      size,
      limitKind.kind === 'sigma'
        ? sigmaCountLimits(modelOf(size), limitKind.limitFactor)
        : exactCountLimits(modelOf(size), limitKind.falseAlarmProbability),
    ]),
  );
}

/** Variance of the standardised counts: about 1 when only the chance of sampling moves them. */
function dispersion(samples: readonly CountedSample[], rate: number, ofPieces: boolean): number {
  const squares = samples.map(({ count, size }) => {
    const variance = size * rate * (ofPieces ? 1 - rate : 1);
    return (count - size * rate) ** 2 / variance;
  });
  return compensatedSum(squares) / (samples.length - 1);
}

const plottedNames = {
  p: 'fraction nonconforming',
  np: 'nonconforming pieces',
  c: 'nonconformities',
  u: 'nonconformities for each unit',
};

/** Beyond this ratio, and far beyond chance, the counts scatter more than their distribution. */
const noticeableDispersion = 2;

function describe(
  input: ShewhartAttributesInput,
  output: Omit<ShewhartAttributesOutput, 'words'>,
): string {
  const centre = Number(output.centreLine.toPrecision(4));
  const sentences = [`Centre line ${centre} ${plottedNames[input.data.chart]}.`];
  const high = output.points.filter((point) => point.position === 'above');
  const low = output.points.filter((point) => point.position === 'below');
  if (high.length > 0) {
    sentences.push(`${namePoints(high.map((point) => point.number))} above the upper limit.`);
  }
  if (low.length > 0) {
    sentences.push(
      `${namePoints(low.map((point) => point.number))} below the lower limit: better than usual, or faults passed over.`,
    );
  }
  sentences.push(...tellSignals(output.signals));
  if (output.outside.length + output.signals.length === 0) sentences.push('Nothing signals.');
  if (!output.lowerLimitWatches) {
    sentences.push('The samples are too small for a lower limit: this chart cannot show less.');
  }
  if (output.dispersionRatio > noticeableDispersion) {
    sentences.push(
      `The counts scatter ${output.dispersionRatio.toFixed(1)} times as much (variance) as chance would make them: the samples differ among themselves.`,
    );
  }
  return sentences.join(' ');
}

/**
 * Control chart for counts: fraction (p) or number (np) of nonconforming pieces, nonconformities of
 * a sample (c) or of a unit (u). It tells whether faults come at a steady rate.
 *
 * Formula: the rate in control is given, or Σ count/Σ size of phase one. Limits of the count of each
 * sample at its mean ∓ L standard deviations, np and np(1 − p) or c and c, or exact probability limits
 * of the binomial or Poisson distribution, see `exactCountLimits`; divided by the size for p and u. A
 * value on a limit is inside. Run rules of sides, trend and zigzag; zones do not fit counts.
 *
 * @param input samples by kind of chart; limits from the first samples, all, or a given standard; sigma
 *   factor 1 to 6 or probability 1e-6 to 0.2; run rules
 * @returns points with limits, those outside, signals, the exact probability of a false alarm, and the
 *   ratio of the observed variance to that of the distribution; nothing rounded but words
 * @throws DomainError for more nonconforming pieces than were examined, a phase one longer than the
 *   data, a fraction of 1 or more, or no count at all to set limits from
 * Validity: pieces independent of one another at a constant rate; three-sigma limits mislead where the
 * mean count is below about 10. See reference/control-charts.
 * Source: ISO 7870-2:2013, 8; ASTM E2587-16; L. S. Nelson (1984), Journal of Quality Technology 16
 * @example shewhartAttributes({ data: { chart: 'c', nonconformities: [16, 14, 28, 16] },
 *   limits: { from: 'standard', rate: 16 }, limitKind: { kind: 'sigma', limitFactor: 3 },
 *   rules: [] }).points[0].upperLimit // 28
 */
export function shewhartAttributes(input: ShewhartAttributesInput): ShewhartAttributesOutput {
  const { data } = input;
  const samples = samplesOf(data);
  requireCounts(data, samples);
  const { rate, phaseOneCount } = rateOf(input, samples);
  requireDomain(rate > 0 && (!isOfPieces(data) || rate < 1), {
    field: 'limits',
    value: `a rate of ${rate}`,
    accepted: 'samples of which some but not all pieces show the fault, or a standard above 0',
  });
  const limits = limitsBySize(input, samples, rate);
  const plotsCounts = data.chart === 'np' || data.chart === 'c';
  const points = samples.map(({ count, size }, index) => {
    const unit = plotsCounts ? 1 : size;
    const { lower, upper } = limits.get(size) as CountLimits;
    return controlPointOf({
      number: index + 1,
      value: count / unit,
      centreLine: plotsCounts ? rate * size : rate,
      lowerLimit: lower / unit,
      upperLimit: upper / unit,
    });
  });
  const values = points.map((point) => point.value);
  const output = {
    centreLine: plotsCounts ? rate * (samples[0]?.size ?? 1) : rate,
    phaseOneCount,
    points,
    outside: numbersOutside(points),
    greatestFalseAlarmProbability: Math.max(
      ...[...limits.values()].map((one) => one.falseAlarmProbability),
    ),
    lowerLimitWatches: [...limits.values()].some((one) => one.lower > 0),
    dispersionRatio: dispersion(samples, rate, isOfPieces(data)),
    signals: runSignals(
      input.rules,
      points.map((point) => point.value - point.centreLine),
      values,
    ).map(({ points: numbers, ...signal }) => ({ ...signal, points: [...numbers] })),
  };
  return { ...output, words: describe(input, output) };
}

const yTitles = {
  p: 'Fraction nonconforming',
  np: 'Nonconforming pieces',
  c: 'Nonconformities',
  u: 'Nonconformities for each unit',
};

function drawShewhartAttributes(
  input: ShewhartAttributesInput,
  output: ShewhartAttributesOutput,
): Chart[] {
  const yTitle = yTitles[input.data.chart];
  const { points, signals, phaseOneCount } = output;
  return [
    drawControlChart({
      title: `${input.data.chart} chart`,
      yTitle,
      points,
      signals,
      phaseOneCount,
    }),
  ];
}

export const shewhartAttributesCalculation = defineCalculation({
  id: 'shewhart-attributes',
  version: 1,
  topic: 'control',
  title: 'Control chart of counts',
  purpose:
    'Whether faults come at a steady rate: fraction or number of nonconforming pieces, nonconformities of a sample or of a unit, with three-sigma or exact probability limits.',
  source:
    'ISO 7870-2:2013, 8; ASTM E2587-16; L. S. Nelson (1984), Journal of Quality Technology 16; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.3',
  input: shewhartAttributesInput,
  output: shewhartAttributesOutput,
  // Thirty wafers of 50 chips, NIST/SEMATECH handbook 6.3.3.2: mean fraction 0.2313.
  example: {
    data: {
      chart: 'np',
      sizePieces: 50,
      nonconformingPieces: [
        12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9,
        12, 7, 13, 9, 6,
      ],
    },
    limits: { from: 'data' },
    limitKind: { kind: 'sigma', limitFactor: 3 },
    rules: ['nelson-2', 'nelson-3'],
  },
  compute: shewhartAttributes,
  draw: drawShewhartAttributes,
});
