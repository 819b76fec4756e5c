import t from '@stdlib/stats-base-dists-t';
import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalDensity } from '../quantity/normal.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { limitsFromEstimate, limitsFromKnownDeviation } from './detection-limit-core.ts';
import { integerField, listField, numberField, outputNumber, wordsField } from './fields.ts';
import {
  fitPolynomial,
  type PolynomialFit,
  polynomialVariance,
  powersOfX,
} from './polynomial-fit.ts';

const most = 1e12;
const contentUnit = 'unit of the content';

const probability = (title: string, description: string) =>
  numberField('a probability', 0.0001, 0.5).meta({ title, description });

const blanksBasis = z.strictObject({
  kind: z.literal('blanks').meta({ title: 'Kind' }),
  blankSignals: listField(
    numberField('a signal', -most, most).meta({ title: 'Signal' }),
    'blank signals',
    2,
    1000,
  ).meta({ title: 'Blank signals' }),
  sensitivity: numberField('a sensitivity above 0, up to', 1e-12, most).meta({
    title: 'Sensitivity',
    description: 'Signal per unit of content',
  }),
});

const knownBasis = z.strictObject({
  kind: z.literal('known deviation').meta({ title: 'Kind' }),
  blankStandardDeviation: numberField('a standard deviation above 0, up to', 1e-12, most).meta({
    title: 'Standard deviation of one blank',
    description: 'Known from long use, as a content',
    unit: contentUnit,
  }),
  blankReadings: integerField('a number of blanks', 1, 1_000_000).meta({
    title: 'Blanks averaged',
    description: '1 for a blank beside each sample; very many for a blank that is well known',
  }),
});

const lineBasis = z.strictObject({
  kind: z.literal('calibration line').meta({ title: 'Kind' }),
  points: listField(
    z.strictObject({
      content: numberField('a content', 0, most).meta({ title: 'Content', unit: contentUnit }),
      signal: numberField('a signal', -most, most).meta({ title: 'Signal' }),
    }),
    'points',
    3,
    1000,
  ).meta({ title: 'Points of the line', description: 'Near the limit, equally weighted' }),
});

export const detectionLimitInput = z.strictObject({
  basis: z
    .discriminatedUnion('kind', [blanksBasis, knownBasis, lineBasis])
    .meta({ title: 'Basis', description: 'What the spread near nothing is known from' }),
  sampleReadings: integerField('a number of readings', 1, 1000).meta({
    title: 'Readings of the sample averaged',
  }),
  falseAlarmProbability: probability(
    'Probability of a false alarm',
    'That a blank exceeds the decision limit; 0.05 unless agreed otherwise',
  ),
  missProbability: probability(
    'Probability of a miss',
    'That a content at the detection limit stays below the decision limit',
  ),
  quantificationFactor: numberField('a factor', 1.5, 100).meta({
    title: 'Quantification factor',
    description:
      'Content over half-width of its interval at the limit of quantification; 3 is common',
  }),
});

export type DetectionLimitInput = z.infer<typeof detectionLimitInput>;

export const detectionLimitOutput = z.strictObject({
  decisionLimit: outputNumber('Decision limit', contentUnit, 'Found above it: present'),
  detectionLimit: outputNumber('Detection limit', contentUnit, 'Least content found so surely'),
  quantificationLimit: z.number().nullable().meta({
    title: 'Limit of quantification',
    description: 'None where no content is ever known that well',
    unit: contentUnit,
  }),
  degreesOfFreedom: z.number().nullable().meta({
    title: 'Degrees of freedom',
    description: 'None where the standard deviation is known',
  }),
  standardDeviationAtNothing: outputNumber(
    'Standard deviation of a found content of nothing',
    contentUnit,
  ),
  words: wordsField(),
});

export type DetectionLimitOutput = z.infer<typeof detectionLimitOutput>;

type Limits = Omit<DetectionLimitOutput, 'words'>;

/** Standard deviation of a blank-corrected content: that of the sample's readings and of the blank. */
const differenceDeviation = (one: number, samples: number, blanks: number): number =>
  one * Math.sqrt(1 / samples + 1 / blanks);

function limitsOfBlanks(input: DetectionLimitInput, basis: z.infer<typeof blanksBasis>): Limits {
  const { blankSignals, sensitivity } = basis;
  const count = blankSignals.length;
  const mean = compensatedSum(blankSignals) / count;
  const squares = compensatedSum(blankSignals.map((one) => (one - mean) ** 2));
  const one = Math.sqrt(squares / (count - 1)) / sensitivity;
  requireDomain(one > 0, {
    field: 'basis.blankSignals',
    value: 'signals without spread',
    accepted: 'blank signals read with enough digits to differ',
  });
  const deviation = differenceDeviation(one, input.sampleReadings, count);
  const { decision, detection } = limitsFromEstimate(
    deviation,
    count - 1,
    input.falseAlarmProbability,
    input.missProbability,
  );
  const quantile = t.quantile(1 - input.falseAlarmProbability / 2, count - 1);
  return {
    decisionLimit: decision,
    detectionLimit: detection,
    quantificationLimit: input.quantificationFactor * quantile * deviation,
    degreesOfFreedom: count - 1,
    standardDeviationAtNothing: deviation,
  };
}

function limitsOfKnown(input: DetectionLimitInput, basis: z.infer<typeof knownBasis>): Limits {
  const deviation = differenceDeviation(
    basis.blankStandardDeviation,
    input.sampleReadings,
    basis.blankReadings,
  );
  const { decision, detection } = limitsFromKnownDeviation(
    deviation,
    input.falseAlarmProbability,
    input.missProbability,
  );
  // The two-sided quantile, as for the other two bases.
  const twoSided = limitsFromKnownDeviation(deviation, input.falseAlarmProbability / 2, 0.5);
  return {
    decisionLimit: decision,
    detectionLimit: detection,
    quantificationLimit: input.quantificationFactor * twoSided.decision,
    degreesOfFreedom: null,
    standardDeviationAtNothing: deviation,
  };
}

/** Standard deviation of a content read from the line. */
function contentDeviation(line: PolynomialFit, samples: number, content: number): number {
  const [, slope = 0] = powersOfX(line).coefficients;
  const variance = line.sumOfSquares * (1 / samples + polynomialVariance(line, content));
  return Math.sqrt(variance) / Math.abs(slope);
}

/** Content that is `factor` times the half-width of its own interval; null where there is none. */
function quantification(halfWidth: (content: number) => number, factor: number, start: number) {
  let content = start;
  for (let round = 0; round < 200; round += 1) {
    const next = factor * halfWidth(content);
    if (!(next < 1e9 * start)) return null;
    if (Math.abs(next - content) <= 1e-14 * content) return next;
    content = next;
  }
  return null;
}

function limitsOfLine(input: DetectionLimitInput, basis: z.infer<typeof lineBasis>): Limits {
  const { points } = basis;
  const raw = fitPolynomial(
    points.map((point) => point.content),
    points.map((point) => point.signal),
    1,
  );
  const degreesOfFreedom = points.length - 2;
  const variance = raw.sumOfSquares / degreesOfFreedom;
  const line = { ...raw, sumOfSquares: variance };
  const deviation = contentDeviation(line, input.sampleReadings, 0);
  requireDomain(Number.isFinite(deviation) && deviation > 0, {
    field: 'basis.points',
    value: 'a line that is flat or has no residuals',
    accepted: 'points that rise with the content and scatter about their line',
  });
  const { falseAlarmProbability: alpha, missProbability: beta } = input;
  const { decision, detection } = limitsFromEstimate(deviation, degreesOfFreedom, alpha, beta);
  const quantile = t.quantile(1 - alpha / 2, degreesOfFreedom);
  const half = (content: number) =>
    quantile * contentDeviation(line, input.sampleReadings, content);
  return {
    decisionLimit: decision,
    detectionLimit: detection,
    quantificationLimit: quantification(half, input.quantificationFactor, detection),
    degreesOfFreedom,
    standardDeviationAtNothing: deviation,
  };
}

/**
 * Decision limit, detection limit and limit of quantification of an element, from blanks, from a
 * known standard deviation, or from a calibration line near nothing; they say what a content found
 * in fine metal means.
 *
 * Formula: s₀ is the standard deviation of a content found where there is nothing: s·√(1/m + 1/n)
 * with m readings of the sample and n blanks, or from a line (s/b)·√(1/m + 1/n + x̄²/Sxx). Decision
 * limit: q(1 − α)·s₀; detection limit: that plus q(1 − β)·s₀; q of Student with the degrees of
 * freedom of s, normal where the deviation is known. Limit of quantification: the content that is
 * the stated factor times q(1 − α/2) times its own standard deviation.
 *
 * @param input at least two blanks, or three points of a line; probabilities from 0.0001 to 0.5
 * @returns three limits as contents (the last null where the relation has no solution); not rounded
 * @throws DomainError for blanks without spread, or a flat line
 * Validity: spread constant near nothing; with an estimated deviation the detection limit by Student's
 * quantiles comes close to the noncentral one for five degrees of freedom or more. Agreement in
 * reference/detection-limits.
 * Source: L. A. Currie (1968), Analytical Chemistry 40, 586; ISO 11843-2:2000; DIN 32645:2008
 * @example detectionLimit({ basis: { kind: 'known deviation', blankStandardDeviation: 0.004,
 *   blankReadings: 1 }, sampleReadings: 1, falseAlarmProbability: 0.05, missProbability: 0.05,
 *   quantificationFactor: 3 }).detectionLimit // 0.018609394
 */
export function detectionLimit(input: DetectionLimitInput): DetectionLimitOutput {
  const { basis } = input;
  const limits =
    basis.kind === 'blanks'
      ? limitsOfBlanks(input, basis)
      : basis.kind === 'known deviation'
        ? limitsOfKnown(input, basis)
        : limitsOfLine(input, basis);
  const shown = (value: number) => String(Number(value.toPrecision(4)));
  const quantity =
    limits.quantificationLimit === null
      ? 'No content is ever known well enough to be given as a figure.'
      : `From ${shown(limits.quantificationLimit)} on it is a figure to be relied on.`;
  const words = `Above ${shown(limits.decisionLimit)} the element is present. A content of ${shown(limits.detectionLimit)} is found in all but ${shown(100 * input.missProbability)} of 100 samples. ${quantity}`;
  return { ...limits, words };
}

function drawLimits(_input: DetectionLimitInput, output: DetectionLimitOutput): Chart[] {
  const { decisionLimit, detectionLimit: limit, standardDeviationAtNothing: s } = output;
  const from = -4 * s;
  const step = (limit + 8 * s) / 100;
  const x = Array.from({ length: 101 }, (_, i) => from + i * step);
  const curve = (label: string, mean: number) => ({
    label,
    kind: 'line' as const,
    x,
    y: x.map((place) => normalDensity(place, mean, s)),
  });
  return [
    {
      kind: 'chart',
      title: 'What is found of nothing, and of the detection limit',
      xTitle: 'Content found',
      yTitle: 'Density',
      series: [curve('nothing', 0), curve('at the limit', limit)],
      marks: [
        { x: decisionLimit, label: 'decision' },
        { x: limit, label: 'detection' },
      ],
    },
  ];
}

export const detectionLimitCalculation = defineCalculation<
  DetectionLimitInput,
  DetectionLimitOutput
>({
  id: 'detection-limit',
  version: 1,
  topic: 'assay',
  title: 'Decision, detection and quantification limit',
  purpose:
    'From which content on an element counts as present, which content is found almost surely, and from which on the figure can be relied on.',
  source:
    'L. A. Currie (1968), Analytical Chemistry 40, 586; ISO 11843-2:2000; DIN 32645:2008 (limits by quantiles of Student)',
  input: detectionLimitInput,
  output: detectionLimitOutput,
  // DIN 32645: decision limit 0.0698, detection limit 0.14, limit of quantification 0.212.
  example: {
    basis: {
      kind: 'calibration line',
      points: [3060, 3522, 3707, 4280, 5058, 5510, 5703, 6205, 7156, 7178].map((signal, i) => ({
        content: (i + 1) / 20,
        signal,
      })),
    },
    sampleReadings: 1,
    falseAlarmProbability: 0.01,
    missProbability: 0.01,
    quantificationFactor: 3,
  },
  compute: detectionLimit,
  draw: drawLimits,
});
