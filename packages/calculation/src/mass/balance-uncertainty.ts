import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import {
  type BalanceUncertaintyInput,
  type BalanceUncertaintyOutput,
  balanceUncertaintyInput,
  balanceUncertaintyOutput,
} from './balance-uncertainty-schema.ts';
import {
  type BudgetPart,
  budgetDegreesOfFreedom,
  budgetLines,
  combinedUncertainty,
} from './budget-parts.ts';
import { conventionalDensities } from './buoyant-mass.ts';

export {
  type BalanceUncertaintyInput,
  type BalanceUncertaintyOutput,
  balanceUncertaintyInput,
  balanceUncertaintyOutput,
} from './balance-uncertainty-schema.ts';

/** Every cause of uncertainty of the reading in milligrams, each once. */
function uncertaintyParts(input: BalanceUncertaintyInput): BudgetPart[] {
  const { readingGrams: mass, readingsAveraged, calibration: certificate } = input;
  const rectangular = (halfWidth: number) => halfWidth / Math.sqrt(3);
  const repeatability = {
    contribution: 'repeatability',
    standardUncertainty:
      input.repeatabilityStandardDeviationMilligrams / Math.sqrt(readingsAveraged),
    ...(input.repeatabilityReadings === undefined
      ? {}
      : { degreesOfFreedom: input.repeatabilityReadings - 1 }),
  };
  const corner = input.cornerLoad;
  const warm = input.temperature;
  const lift = input.buoyancy;
  const part = (contribution: string, standardUncertainty: number) => ({
    contribution,
    standardUncertainty,
  });
  const step = input.scaleIntervalMilligrams / 2;
  return [
    repeatability,
    part('rounding at the load', rectangular(step)),
    part('rounding at zero', rectangular(step)),
    part('linearity', rectangular(input.linearityLimitMilligrams ?? 0)),
    part(
      'calibration',
      certificate ? certificate.expandedUncertaintyMilligrams / certificate.coverageFactor : 0,
    ),
    // The load may stand off the middle by up to half as far as in the test.
    part(
      'corner load',
      corner ? rectangular((corner.limitMilligrams * mass) / (2 * corner.testLoadGrams)) : 0,
    ),
    part(
      'temperature',
      warm ? rectangular((mass * warm.driftPartsPerMillionPerKelvin * warm.rangeKelvin) / 2000) : 0,
    ),
    part('buoyancy', lift ? rectangular(buoyancyHalfWidth(mass, lift)) : 0),
  ];
}

/** Half width in milligrams of the change of a reading when the air density varies. */
function buoyancyHalfWidth(
  massGrams: number,
  lift: NonNullable<BalanceUncertaintyInput['buoyancy']>,
): number {
  const volumes = 1 / lift.objectDensityKilogramsPerCubicMetre - 1 / conventionalDensities.weight;
  return 1000 * massGrams * lift.airDensityHalfRangeKilogramsPerCubicMetre * Math.abs(volumes);
}

/**
 * Uncertainty of one balance reading from what is known of the balance and its surroundings.
 *
 * Formula: root of the sum of squares of repeatability s/√n; rounding d/√12 at the load and again
 * at zero; linearity a/√3; calibration U/k; corner load e·m/(2·L·√3), e found with the load L;
 * temperature m·K·ΔT/√12; buoyancy m·Δρ·|1/ρ − 1/8000|/√3. Coverage factor of Student's t with the
 * effective degrees of freedom (Welch–Satterthwaite).
 *
 * @param input net reading above 0 g, readings averaged, scale interval d and s in mg, the others
 *   where known; coverage probability from 50 % to 99.99 %
 * @returns standard and expanded uncertainty in mg, budget with shares that add to 100 %
 * Validity: causes independent; readings averaged share every cause but repeatability, and their
 * roundings are kept in full. laws/mass-balance.test.ts holds it against simulation.
 * Source: EURAMET cg-18 (2015), 7.1 and 7.4 (parts as remembered); JCGM 100:2008, 4.3.7, 5.1.2, G.4.1
 * @example balanceUncertainty({ readingGrams: 31.21, readingsAveraged: 1,
 *   scaleIntervalMilligrams: 0.1, repeatabilityStandardDeviationMilligrams: 0.1,
 *   levelPercent: 95.45 }).standardUncertaintyMilligrams // 0.1080
 */
export function balanceUncertainty(input: BalanceUncertaintyInput): BalanceUncertaintyOutput {
  const parts = uncertaintyParts(input);
  const standard = combinedUncertainty(parts);
  const degreesOfFreedom = budgetDegreesOfFreedom(parts);
  const factor = coverageFactor(input.levelPercent / 100, degreesOfFreedom);
  const expanded = factor * standard;
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const largest = budgetLines(parts).reduce((most, next) =>
    next.sharePercent > most.sharePercent ? next : most,
  );
  return {
    standardUncertaintyMilligrams: standard,
    effectiveDegreesOfFreedom: degreesOfFreedom,
    coverageFactor: factor,
    expandedUncertaintyMilligrams: expanded,
    relativeExpandedUncertaintyPercent: expanded / (10 * input.readingGrams),
    budget: budgetLines(parts),
    words: `The reading of ${input.readingGrams} g has expanded uncertainty ${print(expanded, 4)} mg (k = ${print(factor, 2)}), ${print(expanded / (10 * input.readingGrams), 5)} %; the largest part is ${largest.contribution} with ${print(largest.sharePercent, 0)} %.`,
  };
}

function drawBudget(_input: BalanceUncertaintyInput, output: BalanceUncertaintyOutput): Chart[] {
  const lines = output.budget.filter((line) => line.standardUncertainty > 0);
  return [
    {
      kind: 'chart',
      title: 'Parts of the uncertainty',
      xTitle: 'Contribution',
      yTitle: 'Standard uncertainty, mg',
      series: [
        {
          label: 'part',
          kind: 'bars',
          x: lines.map((_, at) => at + 1),
          y: lines.map((line) => line.standardUncertainty),
        },
      ],
      xNames: lines.map((line, at) => ({ x: at + 1, name: line.contribution })),
      levels: [{ y: output.standardUncertaintyMilligrams, label: 'combined' }],
    },
  ];
}

export const balanceUncertaintyCalculation = defineCalculation<
  BalanceUncertaintyInput,
  BalanceUncertaintyOutput
>({
  id: 'balance-uncertainty',
  version: 1,
  topic: 'mass',
  title: 'Uncertainty of a balance reading',
  purpose:
    'Adds up what resolution, repeatability, linearity, calibration, corner load, temperature and buoyancy leave open in one reading of a balance.',
  source: 'EURAMET cg-18 (2015), 7.1 and 7.4, as remembered; JCGM 100:2008, 4.3.7, 5.1.2, G.4.1',
  input: balanceUncertaintyInput,
  output: balanceUncertaintyOutput,
  // Figures of a usual analytical balance, chosen; the parts are worked out by hand in the test.
  example: {
    readingGrams: 31.21,
    readingsAveraged: 1,
    scaleIntervalMilligrams: 0.1,
    repeatabilityStandardDeviationMilligrams: 0.08,
    repeatabilityReadings: 10,
    linearityLimitMilligrams: 0.2,
    calibration: { expandedUncertaintyMilligrams: 0.15, coverageFactor: 2 },
    cornerLoad: { limitMilligrams: 0.3, testLoadGrams: 100 },
    temperature: { driftPartsPerMillionPerKelvin: 1.5, rangeKelvin: 4 },
    buoyancy: {
      objectDensityKilogramsPerCubicMetre: 19_300,
      airDensityHalfRangeKilogramsPerCubicMetre: 0.04,
    },
    levelPercent: 95.45,
  },
  compute: balanceUncertainty,
  draw: drawBudget,
});
