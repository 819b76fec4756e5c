import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  compareDecimals,
  type Decimal,
  decimalOfInteger,
  decimalOfNumber,
  largestDecimal,
  multiplyDecimals,
  numberOfDecimal,
  smallestDecimal,
  subtractDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import {
  type BalanceCheckInput,
  type BalanceCheckOutput,
  balanceCheckInput,
  balanceCheckOutput,
} from './balance-check-schema.ts';
import { fitStraightLine } from './straight-line.ts';

export {
  type BalanceCheckInput,
  type BalanceCheckOutput,
  balanceCheckInput,
  balanceCheckOutput,
} from './balance-check-schema.ts';

const thousand = decimalOfInteger(1000n);

/** Exact difference of two figures in grams, in milligrams. */
function milligramsBetween(minuendGrams: number, subtrahendGrams: number): Decimal {
  const difference = subtractDecimals(
    decimalOfNumber(minuendGrams, 'readingGrams'),
    decimalOfNumber(subtrahendGrams, 'readingGrams'),
  );
  return multiplyDecimals([thousand, difference]);
}

function sizeOf(decimal: Decimal): Decimal {
  const { coefficient, places } = decimal;
  return { coefficient: coefficient < 0n ? -coefficient : coefficient, places };
}

/** Largest in size of at least one decimal. */
function greatestSize(decimals: readonly Decimal[]): Decimal {
  const [first = decimalOfInteger(0n), ...rest] = decimals.map(sizeOf);
  return largestDecimal([first, ...rest]);
}

function keepsLimit(size: Decimal, limit: number): boolean {
  return compareDecimals(size, decimalOfNumber(limit)) <= 0;
}

function checkRepeatability(input: NonNullable<BalanceCheckInput['repeatability']>) {
  const [first = 0] = input.readingsGrams;
  // Differences from the first reading are exact, so no digit of a large load is lost.
  const [zero = decimalOfInteger(0n), ...rest] = input.readingsGrams.map((reading) =>
    milligramsBetween(reading, first),
  );
  const differences = [zero, ...rest].map(numberOfDecimal);
  const mean = compensatedSum(differences) / differences.length;
  const squares = compensatedSum(differences.map((value) => (value - mean) ** 2));
  const standardDeviationMilligrams = Math.sqrt(squares / (differences.length - 1));
  const largest = largestDecimal([zero, ...rest]);
  const smallest = smallestDecimal([zero, ...rest]);
  return {
    standardDeviationMilligrams,
    rangeMilligrams: numberOfDecimal(subtractDecimals(largest, smallest)),
    passes: standardDeviationMilligrams <= input.limitMilligrams,
  };
}

function checkCornerLoad(input: NonNullable<BalanceCheckInput['cornerLoad']>) {
  const differences = input.cornerReadingsGrams.map((reading) =>
    milligramsBetween(reading, input.centreReadingGrams),
  );
  const greatest = greatestSize(differences);
  return {
    differencesMilligrams: differences.map(numberOfDecimal),
    greatestDifferenceMilligrams: numberOfDecimal(greatest),
    passes: keepsLimit(greatest, input.limitMilligrams),
  };
}

function checkLinearity(input: NonNullable<BalanceCheckInput['linearity']>) {
  const { points, errorLimitMilligrams, linearityLimitMilligrams } = input;
  const errors = points.map((one) => milligramsBetween(one.readingGrams, one.referenceGrams));
  const errorsMilligrams = errors.map(numberOfDecimal);
  const loads = points.map((one) => one.referenceGrams);
  const shared = compensatedSum(loads.map((load, at) => load * (errorsMilligrams[at] ?? 0)));
  const slope = shared / compensatedSum(loads.map((load) => load * load));
  const departures = loads.map((load, at) => (errorsMilligrams[at] ?? 0) - slope * load);
  const greatestDeparture = Math.max(...departures.map(Math.abs));
  const greatest = greatestSize(errors);
  return {
    errorsMilligrams,
    greatestErrorMilligrams: numberOfDecimal(greatest),
    sensitivityErrorPartsPerMillion: 1000 * slope,
    departuresMilligrams: departures,
    greatestDepartureMilligrams: greatestDeparture,
    passesError: keepsLimit(greatest, errorLimitMilligrams),
    passesLinearity:
      linearityLimitMilligrams === undefined ? null : greatestDeparture <= linearityLimitMilligrams,
  };
}

function checkTemperature(input: NonNullable<BalanceCheckInput['temperature']>) {
  const temperatures = input.points.map((one) => one.temperatureCelsius);
  requireDomain(new Set(temperatures).size > 1, {
    field: 'temperature.points',
    value: temperatures.join(', '),
    accepted: 'readings at two different temperatures or more',
  });
  const errors = input.points.map((one) => {
    const error = numberOfDecimal(milligramsBetween(one.readingGrams, input.referenceGrams));
    return (1000 * error) / input.referenceGrams;
  });
  const drift = fitStraightLine(temperatures, errors).slope;
  return {
    driftPartsPerMillionPerKelvin: drift,
    passes: Math.abs(drift) <= input.limitPartsPerMillionPerKelvin,
  };
}

function balanceCheckWords(input: BalanceCheckInput, output: Omit<BalanceCheckOutput, 'words'>) {
  const print = (value: number) => roundNumberText(value, 4, 'half-even').replace(/\.?0+$/, '');
  const ends = (passed: boolean) => (passed ? 'passes' : 'does not pass');
  const { repeatability, cornerLoad, linearity, temperature } = output;
  const sentences = [
    output.passes ? 'The balance passes.' : 'The balance does not pass: do not weigh with it.',
    repeatability &&
      `Repeatability ${print(repeatability.standardDeviationMilligrams)} mg against ${input.repeatability?.limitMilligrams} mg ${ends(repeatability.passes)}.`,
    cornerLoad &&
      `Corner load: greatest difference ${print(cornerLoad.greatestDifferenceMilligrams)} mg against ${input.cornerLoad?.limitMilligrams} mg ${ends(cornerLoad.passes)}.`,
    linearity &&
      `Linearity: greatest error ${print(linearity.greatestErrorMilligrams)} mg against ${input.linearity?.errorLimitMilligrams} mg ${ends(linearity.passesError)}; departure from the line ${print(linearity.greatestDepartureMilligrams)} mg${linearity.passesLinearity === null ? '' : ` ${ends(linearity.passesLinearity)}`}.`,
    temperature &&
      `Sensitivity drifts by ${print(temperature.driftPartsPerMillionPerKelvin)} ppm/K against ${input.temperature?.limitPartsPerMillionPerKelvin} ppm/K and ${ends(temperature.passes)}.`,
  ];
  return sentences.filter((sentence) => sentence !== null).join(' ');
}

/**
 * Check of a balance: repeatability, corner load, linearity and sensitivity with temperature, each
 * against its limit.
 *
 * Formula: repeatability is the standard deviation (divisor n − 1) of readings of one load; corner
 * load the greatest difference from the reading in the middle; linearity the errors of indication,
 * and their departures from the least-squares line through zero, whose slope is the sensitivity
 * error; drift the least-squares slope of the relative error against temperature.
 *
 * @param input scale interval in mg and at least one of the four checks; readings in g, limits in
 *   mg or ppm/K
 * @returns figures in mg and ppm with a verdict per check made, null for the others
 * @throws DomainError when all temperatures are the same
 * Validity: differences of readings are taken exactly in their decimals, so a reading on its limit
 * is on it; the reference weights are taken as known. See reference/generated/mass.
 * Source: EURAMET cg-18 (2015), 5.1 to 5.3 (tests, from memory); OIML R 76-1:2006, A.4.4, A.4.7 and
 * A.4.10 (from memory); limits are those of the plant
 * @example balanceCheck({ scaleIntervalMilligrams: 0.1, cornerLoad: { centreReadingGrams: 70.0001,
 *   cornerReadingsGrams: [70.0003, 69.9999], limitMilligrams: 0.2 } }).passes // true
 */
export function balanceCheck(input: BalanceCheckInput): BalanceCheckOutput {
  const repeatability = input.repeatability ? checkRepeatability(input.repeatability) : null;
  const cornerLoad = input.cornerLoad ? checkCornerLoad(input.cornerLoad) : null;
  const linearity = input.linearity ? checkLinearity(input.linearity) : null;
  const temperature = input.temperature ? checkTemperature(input.temperature) : null;
  const results = [
    repeatability?.passes,
    cornerLoad?.passes,
    linearity?.passesError,
    linearity?.passesLinearity,
    temperature?.passes,
  ];
  const passes = results.every((result) => result !== false);
  const output = { repeatability, cornerLoad, linearity, temperature, passes };
  return { ...output, words: balanceCheckWords(input, output) };
}

function drawBalanceCheck(input: BalanceCheckInput, output: BalanceCheckOutput): Chart[] {
  const { linearity } = output;
  if (!linearity || !input.linearity) return [];
  const x = input.linearity.points.map((one) => one.referenceGrams);
  const limit = input.linearity.errorLimitMilligrams;
  const ends = [0, Math.max(...x)];
  return [
    {
      kind: 'chart',
      title: 'Errors of indication',
      xTitle: 'Load, g',
      yTitle: 'Error, mg',
      series: [
        { label: 'error', kind: 'points', x, y: linearity.errorsMilligrams },
        {
          label: 'line',
          kind: 'line',
          x: ends,
          y: ends.map((load) => (linearity.sensitivityErrorPartsPerMillion / 1000) * load),
        },
      ],
      levels: [
        { y: limit, label: 'limit' },
        { y: -limit, label: 'limit' },
      ],
    },
  ];
}

export const balanceCheckCalculation = defineCalculation<BalanceCheckInput, BalanceCheckOutput>({
  id: 'balance-check',
  version: 1,
  topic: 'mass',
  title: 'Check of a balance',
  purpose:
    'Judges repeatability, corner load, linearity and sensitivity of a balance from readings of known weights against the limits of the plant.',
  source:
    'EURAMET cg-18 (2015), 5.1 to 5.3, and OIML R 76-1:2006, A.4.4, A.4.7, A.4.10, tests as remembered; limits are those of the plant',
  input: balanceCheckInput,
  output: balanceCheckOutput,
  // Readings chosen; standard deviation, line and drift also by numpy, see reference/generated/mass.
  example: {
    scaleIntervalMilligrams: 0.1,
    repeatability: {
      readingsGrams: [
        200.0001, 200.0002, 200.0001, 200.0, 200.0001, 200.0002, 200.0, 200.0001, 200.0001,
        200.0002,
      ],
      limitMilligrams: 0.1,
    },
    cornerLoad: {
      centreReadingGrams: 70.0001,
      cornerReadingsGrams: [70.0002, 69.9999, 70.0001, 70.0003],
      limitMilligrams: 0.3,
    },
    linearity: {
      points: [
        { referenceGrams: 20, readingGrams: 20.0 },
        { referenceGrams: 50, readingGrams: 50.0001 },
        { referenceGrams: 100, readingGrams: 100.0001 },
        { referenceGrams: 200, readingGrams: 200.0003 },
      ],
      errorLimitMilligrams: 0.5,
      linearityLimitMilligrams: 0.2,
    },
    temperature: {
      referenceGrams: 200,
      points: [
        { temperatureCelsius: 18, readingGrams: 199.9998 },
        { temperatureCelsius: 21, readingGrams: 200.0002 },
        { temperatureCelsius: 24, readingGrams: 200.0011 },
      ],
      limitPartsPerMillionPerKelvin: 1.5,
    },
  },
  compute: balanceCheck,
  draw: drawBalanceCheck,
});
