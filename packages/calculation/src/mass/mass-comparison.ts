import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import {
  decimalOfInteger,
  decimalOfNumber,
  decimalOfText,
  multiplyDecimals,
  numberOfDecimal,
  subtractDecimals,
  sumDecimals,
} from '../quantity/decimal.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';
import { coverageFactor } from '../uncertainty/coverage.ts';
import {
  type BudgetPart,
  budgetDegreesOfFreedom,
  budgetLines,
  combinedUncertainty,
  modelParts,
  requireModestUncertainty,
} from './budget-parts.ts';
import { conventionalDensities } from './buoyant-mass.ts';
import {
  type MassComparisonInput,
  type MassComparisonOutput,
  massComparisonInput,
  massComparisonOutput,
} from './mass-comparison-schema.ts';

export {
  type MassComparisonInput,
  type MassComparisonOutput,
  massComparisonInput,
  massComparisonOutput,
} from './mass-comparison-schema.ts';

type Cycle = MassComparisonInput['cycles'][number];

const half = decimalOfText('0.5');
const tenth = decimalOfText('0.1');
const thousand = decimalOfInteger(1000n);

/** Difference and drift per reading of one cycle in milligrams, exact in the decimals read. */
function workOutCycle(cycle: Cycle): { difference: number; drift: number } {
  const milligrams = (value: number) => multiplyDecimals([thousand, decimalOfNumber(value)]);
  const [a1, b1, b2, a2] = [
    milligrams(cycle.firstReferenceGrams),
    milligrams(cycle.firstUnknownGrams),
    milligrams(cycle.secondUnknownGrams),
    milligrams(cycle.secondReferenceGrams),
  ];
  const doubled = subtractDecimals(sumDecimals([b1, b2]), sumDecimals([a1, a2]));
  // Least squares over both pairs: three steps lie between the references, one between the others.
  const rise = sumDecimals([
    multiplyDecimals([decimalOfInteger(3n), subtractDecimals(a2, a1)]),
    subtractDecimals(b2, b1),
  ]);
  return {
    difference: numberOfDecimal(multiplyDecimals([half, doubled])),
    drift: numberOfDecimal(multiplyDecimals([tenth, rise])),
  };
}

/** Correction in milligrams for air that is not that of the conventional mass. */
function buoyancyModel(massGrams: number) {
  return ([air = 0, reference = 0, unknown = 0]: readonly number[]) =>
    1000 * massGrams * (air - conventionalDensities.air) * (1 / unknown - 1 / reference);
}

function workOutBuoyancy(input: MassComparisonInput): { correction: number; parts: BudgetPart[] } {
  const { buoyancy } = input;
  if (buoyancy.kind === 'limit') {
    const standardUncertainty = buoyancy.limitMilligrams / Math.sqrt(3);
    return { correction: 0, parts: [{ contribution: 'buoyancy', standardUncertainty }] };
  }
  const figures = [
    {
      contribution: 'air density',
      value: buoyancy.airDensityKilogramsPerCubicMetre,
      standardUncertainty: buoyancy.airDensityStandardUncertaintyKilogramsPerCubicMetre,
    },
    {
      contribution: 'density of the reference',
      value: buoyancy.referenceDensityKilogramsPerCubicMetre,
      standardUncertainty: buoyancy.referenceDensityStandardUncertaintyKilogramsPerCubicMetre,
    },
    {
      contribution: 'density of the unknown',
      value: buoyancy.unknownDensityKilogramsPerCubicMetre,
      standardUncertainty: buoyancy.unknownDensityStandardUncertaintyKilogramsPerCubicMetre,
    },
  ];
  requireModestUncertainty(
    'buoyancy.referenceDensityStandardUncertaintyKilogramsPerCubicMetre',
    buoyancy.referenceDensityStandardUncertaintyKilogramsPerCubicMetre,
    buoyancy.referenceDensityKilogramsPerCubicMetre,
  );
  requireModestUncertainty(
    'buoyancy.unknownDensityStandardUncertaintyKilogramsPerCubicMetre',
    buoyancy.unknownDensityStandardUncertaintyKilogramsPerCubicMetre,
    buoyancy.unknownDensityKilogramsPerCubicMetre,
  );
  const model = buoyancyModel(input.reference.conventionalMassGrams);
  return { correction: model(figures.map((one) => one.value)), parts: modelParts(model, figures) };
}

/** Standard deviation of the cycle differences; null for a single one. */
function spreadOf(differences: readonly number[]): number | null {
  if (differences.length < 2) return null;
  const mean = compensatedSum(differences) / differences.length;
  const squares = compensatedSum(differences.map((value) => (value - mean) ** 2));
  return Math.sqrt(squares / (differences.length - 1));
}

/** The part of the weighings: the earlier evaluation where there is one, else these cycles. */
function weighingPart(input: MassComparisonInput, spread: number | null): BudgetPart {
  const { pooled, cycles } = input;
  const contribution = 'weighings';
  const perCycle = pooled?.standardDeviationMilligrams ?? spread ?? 0;
  const degreesOfFreedom = pooled ? pooled.degreesOfFreedom : cycles.length - 1;
  const standardUncertainty = perCycle / Math.sqrt(cycles.length);
  return degreesOfFreedom === undefined
    ? { contribution, standardUncertainty }
    : { contribution, standardUncertainty, degreesOfFreedom };
}

/**
 * Conventional mass of a weight compared with a reference in cycles reference, unknown, unknown,
 * reference, which cancel a steady drift of the balance.
 *
 * Formula: difference of a cycle (B1 + B2)/2 − (A1 + A2)/2; m = mR + mean difference + mR·(ρa −
 * 1.2)·(1/ρ − 1/ρR). Uncertainty: U/k of the reference, its drift D/√3, the weighings s/√n, corner
 * load e/√3, buoyancy; coverage factor of Student's t with the effective degrees of freedom.
 *
 * @param input reference in g with expanded uncertainty in mg, coverage factor and drift limit; 1 to
 *   100 cycles of readings in g, absolute or as offsets; earlier evaluation of the repeatability
 *   (needed for a single cycle); corner load limit in mg; buoyancy corrected or within a limit;
 *   coverage probability
 * @returns differences and drifts per cycle, conventional mass in g, budget, expanded uncertainty in
 *   mg; nothing rounded but words
 * @throws DomainError when a standard uncertainty of a density exceeds a quarter of it
 * Validity: readings at equal times; the balance reads true differences (its sensitivity was
 * checked). Reference and unknown of the same nominal mass. See reference/ea-4-02.
 * Source: OIML R 111-1:2004, C.4 to C.6 (from memory); EA-4/02, example S2; JCGM 100:2008, G.4.1
 * @example massComparison({ reference: { conventionalMassGrams: 10000.005,
 *   expandedUncertaintyMilligrams: 45, coverageFactor: 2, driftLimitMilligrams: 15 },
 *   cycles: [{ firstReferenceGrams: 0.01, firstUnknownGrams: 0.02, secondUnknownGrams: 0.025,
 *     secondReferenceGrams: 0.015 }], pooled: { standardDeviationMilligrams: 25 },
 *   cornerLoadLimitMilligrams: 10, buoyancy: { kind: 'limit', limitMilligrams: 10 },
 *   levelPercent: 95.45 }).meanDifferenceMilligrams // 10
 */
export function massComparison(input: MassComparisonInput): MassComparisonOutput {
  const { reference } = input;
  const cycles = input.cycles.map(workOutCycle);
  const differences = cycles.map((one) => one.difference);
  const spread = spreadOf(differences);
  const meanDifference = compensatedSum(differences) / differences.length;
  const buoyancy = workOutBuoyancy(input);
  const part = (contribution: string, standardUncertainty: number) => ({
    contribution,
    standardUncertainty,
  });
  const parts: BudgetPart[] = [
    part('reference', reference.expandedUncertaintyMilligrams / reference.coverageFactor),
    part('drift of the reference', reference.driftLimitMilligrams / Math.sqrt(3)),
    weighingPart(input, spread),
    part('corner load', input.cornerLoadLimitMilligrams / Math.sqrt(3)),
    ...buoyancy.parts,
  ];
  const standard = combinedUncertainty(parts);
  const degreesOfFreedom = budgetDegreesOfFreedom(parts);
  const factor = coverageFactor(input.levelPercent / 100, degreesOfFreedom);
  const error = meanDifference + buoyancy.correction;
  const mass = reference.conventionalMassGrams + error / 1000;
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  return {
    differencesMilligrams: differences,
    driftsMilligrams: cycles.map((one) => one.drift),
    meanDifferenceMilligrams: meanDifference,
    cycleStandardDeviationMilligrams: spread,
    buoyancyCorrectionMilligrams: buoyancy.correction,
    conventionalMassGrams: mass,
    errorMilligrams: error,
    standardUncertaintyMilligrams: standard,
    effectiveDegreesOfFreedom: degreesOfFreedom,
    coverageFactor: factor,
    expandedUncertaintyMilligrams: factor * standard,
    budget: budgetLines(parts),
    words: `The conventional mass is ${print(mass, 6)} g, ${print(error, 4)} mg from the reference, with expanded uncertainty ${print(factor * standard, 4)} mg (k = ${print(factor, 2)}) from ${cycles.length} cycle(s).`,
  };
}

function drawMassComparison(_input: MassComparisonInput, output: MassComparisonOutput): Chart[] {
  const x = output.differencesMilligrams.map((_, at) => at + 1);
  return [
    {
      kind: 'chart',
      title: 'Differences of the cycles',
      xTitle: 'Cycle',
      yTitle: 'Unknown less reference, mg',
      series: [{ label: 'cycle', kind: 'points', x, y: output.differencesMilligrams }],
      levels: [{ y: output.meanDifferenceMilligrams, label: 'mean' }],
    },
  ];
}

export const massComparisonCalculation = defineCalculation<
  MassComparisonInput,
  MassComparisonOutput
>({
  id: 'mass-comparison',
  version: 1,
  topic: 'mass',
  title: 'Comparison of a weight with a reference',
  purpose:
    'Finds the conventional mass of a check weight from weighing cycles against a reference weight, free of the drift of the balance, with its uncertainty.',
  source: 'OIML R 111-1:2004, C.4 to C.6, as remembered; EA-4/02, example S2; JCGM 100:2008, G.4.1',
  input: massComparisonInput,
  output: massComparisonOutput,
  // EA-4/02, example S2: 10 kg of class M1 against a reference of class F2; 10000.025 g, U = 59 mg.
  example: {
    reference: {
      conventionalMassGrams: 10_000.005,
      expandedUncertaintyMilligrams: 45,
      coverageFactor: 2,
      driftLimitMilligrams: 15,
    },
    cycles: [
      {
        firstReferenceGrams: 0.01,
        firstUnknownGrams: 0.02,
        secondUnknownGrams: 0.025,
        secondReferenceGrams: 0.015,
      },
      {
        firstReferenceGrams: 0.025,
        firstUnknownGrams: 0.05,
        secondUnknownGrams: 0.055,
        secondReferenceGrams: 0.02,
      },
      {
        firstReferenceGrams: 0.025,
        firstUnknownGrams: 0.045,
        secondUnknownGrams: 0.04,
        secondReferenceGrams: 0.02,
      },
    ],
    pooled: { standardDeviationMilligrams: 25 },
    cornerLoadLimitMilligrams: 10,
    buoyancy: { kind: 'limit', limitMilligrams: 10 },
    levelPercent: 95.45,
  },
  compute: massComparison,
  draw: drawMassComparison,
});
