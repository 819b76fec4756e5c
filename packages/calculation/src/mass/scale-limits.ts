import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
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
import {
  type ScaleLimitsInput,
  type ScaleLimitsOutput,
  scaleLimitsInput,
  scaleLimitsOutput,
} from './scale-limits-schema.ts';
import {
  errorStepsByClass,
  type ScaleClass,
  type ScaleClassRow,
  scaleClasses,
  scaleClassRows,
} from './scale-limits-table.ts';

export {
  type ScaleLimitsInput,
  type ScaleLimitsOutput,
  scaleLimitsInput,
  scaleLimitsOutput,
} from './scale-limits-schema.ts';

/** The row of the class table in which the interval lies. */
function classRow(scaleClass: ScaleClass, interval: Decimal): ScaleClassRow {
  const rows = scaleClassRows.filter((one) => one.scaleClass === scaleClass);
  const found = rows.find(
    (one) =>
      compareDecimals(interval, decimalOfText(one.leastIntervalGrams)) >= 0 &&
      (one.greatestIntervalGrams === null ||
        compareDecimals(interval, decimalOfText(one.greatestIntervalGrams)) <= 0),
  );
  const ranges = rows.map((one) =>
    one.greatestIntervalGrams === null
      ? `${one.leastIntervalGrams} g or more`
      : `${one.leastIntervalGrams} g to ${one.greatestIntervalGrams} g`,
  );
  requireDomain(found !== undefined, {
    field: 'verificationIntervalGrams',
    value: numberOfDecimal(interval),
    accepted: `for class ${scaleClass} ${ranges.join(', or ')}`,
  });
  return found;
}

const half = decimalOfText('0.5');

/** A number of intervals as mass. */
function massOfIntervals(count: number, interval: Decimal): Decimal {
  return multiplyDecimals([decimalOfInteger(BigInt(count)), interval]);
}

/**
 * Maximum permissible error of a scale under a load on verification, exact.
 *
 * Formula: half, one or one and a half verification scale intervals, by the load in intervals.
 *
 * @param scaleClass accuracy class
 * @param interval verification scale interval as an exact decimal of any unit
 * @param mass load as an exact decimal of the same unit
 * @returns exact decimal in that unit
 */
function errorLimit(scaleClass: ScaleClass, interval: Decimal, mass: Decimal): Decimal {
  const steps = errorStepsByClass[scaleClass];
  const halves =
    compareDecimals(mass, massOfIntervals(steps.half, interval)) <= 0
      ? 1n
      : compareDecimals(mass, massOfIntervals(steps.one, interval)) <= 0
        ? 2n
        : 3n;
  return multiplyDecimals([decimalOfInteger(halves), half, interval]);
}

function isWithin(error: Decimal | null, limit: Decimal): boolean | null {
  if (error === null) return null;
  const size = error.coefficient < 0n ? { ...error, coefficient: -error.coefficient } : error;
  return compareDecimals(size, limit) <= 0;
}

function judgeLoad(
  input: ScaleLimitsInput,
  interval: Decimal,
  leastCapacity: Decimal,
  one: ScaleLimitsInput['loads'][number],
) {
  const mass = decimalOfNumber(one.loadGrams);
  const limit = errorLimit(input.scaleClass, interval, mass);
  const inService = multiplyDecimals([decimalOfInteger(2n), limit]);
  const error =
    one.indicationGrams === undefined
      ? null
      : subtractDecimals(decimalOfNumber(one.indicationGrams), mass);
  return {
    loadGrams: one.loadGrams,
    loadIntervals: one.loadGrams / input.verificationIntervalGrams,
    limitGrams: numberOfDecimal(limit),
    limitInServiceGrams: numberOfDecimal(inService),
    isBelowMinimum: compareDecimals(mass, leastCapacity) < 0,
    errorGrams: error === null ? null : numberOfDecimal(error),
    isWithinOnVerification: isWithin(error, limit),
    isWithinInService: isWithin(error, inService),
  };
}

function scaleLimitsWords(
  input: ScaleLimitsInput,
  output: Omit<ScaleLimitsOutput, 'words'>,
): string {
  const suits = output.fitsClass
    ? `suits class ${input.scaleClass}`
    : `does not suit class ${input.scaleClass}`;
  const head = `The scale has ${output.intervals} verification intervals of ${input.verificationIntervalGrams} g, which ${suits}; it weighs from ${output.leastCapacityGrams} g.`;
  const read = output.loads.filter((one) => one.errorGrams !== null);
  if (read.length === 0) return head;
  const beyond = read.filter((one) => one.isWithinInService === false);
  const between = read.filter(
    (one) => one.isWithinOnVerification === false && one.isWithinInService === true,
  );
  if (beyond.length > 0) {
    return `${head} Beyond the limit in service at ${beyond.map((one) => `${one.loadGrams} g`).join(', ')}: out of use.`;
  }
  return between.length > 0
    ? `${head} Within the limits in service, but beyond those of verification at ${between.map((one) => `${one.loadGrams} g`).join(', ')}.`
    : `${head} Every load read is within the limits of verification.`;
}

/**
 * Limits of a scale of an accuracy class under each load, and whether its indications keep them.
 *
 * Formula: 0.5 e, 1 e or 1.5 e by the load in verification scale intervals e; twice that in service.
 *
 * @param input class; e and capacity above 0 g; loads from 0 g up to the capacity, each with or
 *   without an indication, in g
 * @returns intervals, class check, minimum capacity; per load limit, error and whether within
 * @throws DomainError for an e that the class does not have or a load above the capacity
 * Validity: single-interval scales; indications corrected for rounding where it matters. Compared
 * exactly in the decimals given. See reference/oiml-r76.
 * Source: OIML R 76-1:2006, Tables 3 and 6; in service 3.5.2 and UK SI 1995/1907, Schedule 2, 4.2
 * @example scaleLimits({ scaleClass: 'I', verificationIntervalGrams: 0.001, capacityGrams: 200,
 *   loads: [{ loadGrams: 199 }] }).loads[0].limitGrams // 0.001
 */
export function scaleLimits(input: ScaleLimitsInput): ScaleLimitsOutput {
  const interval = decimalOfNumber(input.verificationIntervalGrams);
  const capacity = decimalOfNumber(input.capacityGrams);
  const found = classRow(input.scaleClass, interval);
  for (const [index, one] of input.loads.entries()) {
    requireDomain(one.loadGrams <= input.capacityGrams, {
      field: `loads.${index}.loadGrams`,
      value: one.loadGrams,
      accepted: `a load up to the capacity of ${input.capacityGrams} g`,
    });
  }
  const { leastIntervals, greatestIntervals } = found;
  const isEnough = compareDecimals(capacity, massOfIntervals(leastIntervals, interval)) >= 0;
  const isNotTooMany =
    greatestIntervals === null ||
    compareDecimals(capacity, massOfIntervals(greatestIntervals, interval)) <= 0;
  const leastCapacity = massOfIntervals(found.leastCapacityIntervals, interval);
  const output = {
    intervals: input.capacityGrams / input.verificationIntervalGrams,
    leastIntervals,
    greatestIntervals,
    fitsClass: isEnough && isNotTooMany,
    leastCapacityGrams: numberOfDecimal(leastCapacity),
    loads: input.loads.map((one) => judgeLoad(input, interval, leastCapacity, one)),
  };
  return { ...output, words: scaleLimitsWords(input, output) };
}

function drawScaleLimits(input: ScaleLimitsInput, output: ScaleLimitsOutput): Chart[] {
  const interval = decimalOfNumber(input.verificationIntervalGrams);
  const { half: first, one: second } = errorStepsByClass[input.scaleClass];
  const corners = [first, second].map((count) => count * input.verificationIntervalGrams);
  const x = [0, ...corners.filter((mass) => mass < input.capacityGrams), input.capacityGrams];
  // A step holds its value up to the next corner: the limit just beyond each one.
  const limits = x.map((mass) =>
    numberOfDecimal(errorLimit(input.scaleClass, interval, decimalOfNumber(mass * (1 + 1e-9)))),
  );
  const read = output.loads.filter((one) => one.errorGrams !== null);
  return [
    {
      kind: 'chart',
      title: 'Errors and limits of the scale',
      xTitle: 'Load, g',
      yTitle: 'Error, g',
      series: [
        { label: 'upper limit', kind: 'steps', x, y: limits },
        { label: 'lower limit', kind: 'steps', x, y: limits.map((limit) => -limit) },
        {
          label: 'error',
          kind: 'points',
          x: read.map((one) => one.loadGrams),
          y: read.map((one) => one.errorGrams ?? 0),
        },
      ],
      marks: [{ x: output.leastCapacityGrams, label: 'minimum' }],
    },
  ];
}

export const scaleLimitsCalculation = defineCalculation<ScaleLimitsInput, ScaleLimitsOutput>({
  id: 'scale-limits',
  version: 1,
  topic: 'mass',
  title: 'Limits of scales',
  purpose:
    'Gives the errors that a scale of a class may show under each load, on verification and in service, its minimum capacity, and judges readings.',
  source: 'OIML R 76-1:2006, Tables 3 and 6, 3.5.2 (twice in service)',
  input: scaleLimitsInput,
  output: scaleLimitsOutput,
  // See reference/oiml-r76: 1 mg at 199 g, 0.5 mg at 50 g for a class I balance of e = 1 mg.
  example: {
    scaleClass: 'I',
    verificationIntervalGrams: 0.001,
    capacityGrams: 220,
    loads: [
      { loadGrams: 50, indicationGrams: 50.0004 },
      { loadGrams: 199, indicationGrams: 199.0012 },
    ],
  },
  compute: scaleLimits,
  draw: drawScaleLimits,
});

export { type ScaleClass, scaleClasses };
