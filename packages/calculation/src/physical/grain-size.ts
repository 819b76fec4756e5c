import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import {
  fieldStatistics,
  grainSizeOfCount,
  grainSizeOfIntercept,
  grainsOfSize,
} from './grain-number.ts';
import {
  type GrainSizeInput,
  type GrainSizeOutput,
  grainSizeInput,
  grainSizeOutput,
} from './grain-size-schema.ts';

export {
  type GrainSizeInput,
  type GrainSizeOutput,
  grainSizeInput,
  grainSizeOutput,
} from './grain-size-schema.ts';

/** Relative accuracy that the method asks for, in percent. */
const wantedAccuracyPercent = 10;

/** Counts of each field per millimetre of line or square millimetre of area on the metal. */
function countsPerField(input: GrainSizeInput): number[] {
  const { count, magnification } = input;
  if (count.method === 'intercepts') {
    return count.fields.map((one) => (one.intercepts * magnification) / one.lineLengthMillimetres);
  }
  const corners = count.shape === 'rectangle' ? 1 : 0;
  return count.fields.map(
    (one) =>
      ((one.grainsInside + one.grainsOnEdge / 2 + corners) * magnification ** 2) /
      one.areaSquareMillimetres,
  );
}

function sizeOfCount(method: GrainSizeInput['count']['method'], count: number): number {
  return method === 'intercepts' ? grainSizeOfIntercept(1 / count) : grainSizeOfCount(count);
}

function withinLimits(input: GrainSizeInput, size: number): boolean | null {
  const { lowerLimitGrainSize: lower, upperLimitGrainSize: upper } = input;
  if (lower === undefined && upper === undefined) return null;
  return (lower === undefined || size >= lower) && (upper === undefined || size <= upper);
}

function grainSizeWords(input: GrainSizeInput, output: Omit<GrainSizeOutput, 'words'>): string {
  const print = (value: number) => roundNumberText(value, 1, 'half-even');
  const fields = input.count.fields.length;
  const interval =
    output.grainSizeLower === null || output.grainSizeUpper === null
      ? ''
      : ` (95 % interval ${print(output.grainSizeLower)} to ${print(output.grainSizeUpper)})`;
  const accuracy = {
    none: ' One field gives no interval: count more.',
    true: ` Relative accuracy ${print(output.relativeAccuracyPercent ?? 0)} %.`,
    false: ` Relative accuracy ${print(output.relativeAccuracyPercent ?? 0)} % is poorer than 10 %: count more fields.`,
  }[String(output.isAccurateEnough ?? 'none')];
  const limits =
    output.isWithinLimits === null
      ? ''
      : ` It ${output.isWithinLimits ? 'keeps' : 'does not keep'} its limits ${input.lowerLimitGrainSize ?? 'none'} to ${input.upperLimitGrainSize ?? 'none'}.`;
  return `Grain size number ${print(output.grainSize)}${interval} from ${fields} field(s), ${input.count.method}.${accuracy}${limits}`;
}

/**
 * Grain size of a section from intercepts or from grains counted in an area, with its interval.
 *
 * Formula: intercepts per mm N = n·M/L, mean intercept l = 1/N̄, G = 2·log2(0.32/l); planimetric NA =
 * (inside + edge/2)·M²/A, a rectangle with 1 more, G = log2(NA/7.75). Interval N̄ ± t·s/√n of
 * Student with n − 1 degrees of freedom, its ends turned into G; relative accuracy 100·t·s/(√n·N̄).
 *
 * @param input counts of one method, each field with its length or area on the picture in mm or
 *   mm²; magnification; limits of G
 * @returns G with 95 % interval (null where there is none), intercept in mm, grains per mm²,
 *   relative accuracy in percent; nothing rounded but words
 * @throws DomainError when nothing was counted in any field, or the lower limit exceeds the upper
 * Validity: equiaxed grains of one phase; fields chosen blindly. Twins are not counted, which
 * matters in annealed gold and silver. See reference/grain-size.
 * Source: ASTM E112, intercept and Jeffries' planimetric procedures, statistical analysis (from
 * memory); relations of G in reference/grain-size
 * @example grainSize({ count: { method: 'intercepts', fields: [{ lineLengthMillimetres: 500,
 *   intercepts: 125 }] }, magnification: 100 }).grainSize // 6.00
 */
export function grainSize(input: GrainSizeInput): GrainSizeOutput {
  const { lowerLimitGrainSize: lowest, upperLimitGrainSize: highest } = input;
  requireDomain(lowest === undefined || highest === undefined || lowest <= highest, {
    field: 'lowerLimitGrainSize',
    value: lowest,
    accepted: `a number not above the upper limit ${highest}`,
  });
  const { method } = input.count;
  const counts = countsPerField(input);
  const { mean, standardDeviation } = fieldStatistics(counts);
  requireDomain(mean > 0, {
    field: 'count.fields',
    value: 'no grain counted',
    accepted: 'at least one grain counted in all fields together',
  });
  const half =
    standardDeviation === null
      ? null
      : (coverageFactor(0.95, counts.length - 1) * standardDeviation) / Math.sqrt(counts.length);
  const size = sizeOfCount(method, mean);
  const grains = method === 'intercepts' ? grainsOfSize(size) : mean;
  const relative = half === null ? null : (100 * half) / mean;
  const output = {
    grainSize: size,
    grainSizeLower: half === null || half >= mean ? null : sizeOfCount(method, mean - half),
    grainSizeUpper: half === null ? null : sizeOfCount(method, mean + half),
    relativeAccuracyPercent: relative,
    isAccurateEnough: relative === null ? null : relative <= wantedAccuracyPercent,
    meanInterceptMillimetres: method === 'intercepts' ? 1 / mean : null,
    grainsPerSquareMillimetre: grains,
    meanGrainAreaSquareMicrometres: 1e6 / grains,
    meanCount: mean,
    countStandardDeviation: standardDeviation,
    isWithinLimits: withinLimits(input, size),
  };
  return { ...output, words: grainSizeWords(input, output) };
}

function drawGrainSize(input: GrainSizeInput, output: GrainSizeOutput): Chart[] {
  const counts = countsPerField(input);
  const { lowerLimitGrainSize: lower, upperLimitGrainSize: upper } = input;
  const counted = counts.flatMap((count, at) => (count > 0 ? [{ x: at + 1, count }] : []));
  return [
    {
      kind: 'chart',
      title: 'Grain size of the fields',
      xTitle: 'Field',
      yTitle: 'Grain size number G',
      series: [
        {
          label: 'field',
          kind: 'points',
          x: counted.map((one) => one.x),
          y: counted.map((one) => sizeOfCount(input.count.method, one.count)),
        },
      ],
      levels: [
        { y: output.grainSize, label: 'mean' },
        ...(lower === undefined ? [] : [{ y: lower, label: 'lower limit' }]),
        ...(upper === undefined ? [] : [{ y: upper, label: 'upper limit' }]),
      ],
    },
  ];
}

export const grainSizeCalculation = defineCalculation<GrainSizeInput, GrainSizeOutput>({
  id: 'grain-size',
  version: 1,
  topic: 'physical',
  title: 'Grain size',
  purpose:
    'Finds the grain size number of a polished section from intercepts on test lines or grains in a test area, with its 95 % interval, and judges it.',
  source:
    'ASTM E112, intercept and planimetric procedures and their statistics, as remembered; N = 2^(G − 1) grains per square inch at 100 times',
  input: grainSizeInput,
  output: grainSizeOutput,
  // Textbook micrograph, see reference/grain-size: seven lines of 50 mm at 160 times, 0.0377 mm.
  example: {
    count: {
      method: 'intercepts',
      fields: [
        { lineLengthMillimetres: 50, intercepts: 8 },
        { lineLengthMillimetres: 50, intercepts: 8 },
        { lineLengthMillimetres: 50, intercepts: 8 },
        { lineLengthMillimetres: 50, intercepts: 9 },
        { lineLengthMillimetres: 50, intercepts: 9 },
        { lineLengthMillimetres: 50, intercepts: 9 },
        { lineLengthMillimetres: 50, intercepts: 7 },
      ],
    },
    magnification: 160,
    lowerLimitGrainSize: 5,
    upperLimitGrainSize: 8,
  },
  compute: grainSize,
  draw: drawGrainSize,
});

export { grainSizeOfCount, grainSizeOfIntercept, grainsOfSize };
