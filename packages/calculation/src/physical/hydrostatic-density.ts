import { type Chart, defineCalculation, type LimitRule } from '../catalogue/calculation.ts';
import {
  type BudgetPart,
  budgetLines,
  combinedUncertainty,
  modelParts,
  requireModestUncertainty,
} from '../mass/budget-parts.ts';
import { conventionalDensities } from '../mass/buoyant-mass.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  type HydrostaticDensityInput,
  type HydrostaticDensityOutput,
  hydrostaticDensityInput,
  hydrostaticDensityOutput,
} from './hydrostatic-density-schema.ts';
import {
  airSaturatedGreatestCelsius,
  dissolvedAirChange,
  unboundedWaterDensity,
  waterDensity,
  waterFormulaUncertainty,
} from './water-density.ts';

export {
  type HydrostaticDensityInput,
  type HydrostaticDensityOutput,
  hydrostaticDensityInput,
  hydrostaticDensityOutput,
} from './hydrostatic-density-schema.ts';

type Liquid = HydrostaticDensityInput['liquid'];

/** The liquid as one uncertain figure, what its density is from that figure, and its own error. */
function liquidModel(liquid: Liquid) {
  if (liquid.kind === 'other') {
    return {
      figure: {
        contribution: 'density of the liquid',
        value: liquid.densityKilogramsPerCubicMetre,
        standardUncertainty: liquid.densityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
      },
      densityOf: (value: number) => value,
      formulaUncertainty: 0,
    };
  }
  const isSaturated = liquid.dissolvedAir === 'saturated';
  requireDomain(!isSaturated || liquid.temperatureCelsius <= airSaturatedGreatestCelsius, {
    field: 'liquid.temperatureCelsius',
    value: liquid.temperatureCelsius,
    accepted: `at most ${airSaturatedGreatestCelsius} °C for water that holds dissolved air`,
  });
  return {
    figure: {
      contribution: 'water temperature',
      value: liquid.temperatureCelsius,
      standardUncertainty: liquid.temperatureStandardUncertaintyKelvin ?? 0,
    },
    densityOf: (celsius: number) =>
      unboundedWaterDensity(celsius) + (isSaturated ? dissolvedAirChange(celsius) : 0),
    formulaUncertainty: waterFormulaUncertainty,
  };
}

/** Density of a piece from its two readings, the liquid and the air. */
function densityFrom(inAir: number, inLiquid: number, liquid: number, air: number): number {
  return (inAir * (liquid - air)) / (inAir - inLiquid) + air;
}

/** Volume in mm³ from the loss of reading in g; the balance shows conventional mass. */
function volumeOf(lossGrams: number, liquidLessAir: number): number {
  const { air, weight } = conventionalDensities;
  return (1e6 * lossGrams * (1 - air / weight)) / liquidLessAir;
}

function uncertaintyParts(input: HydrostaticDensityInput): BudgetPart[] {
  const { figure, densityOf, formulaUncertainty } = liquidModel(input.liquid);
  const reading = (input.readingStandardUncertaintyMilligrams ?? 0) / 1000;
  return modelParts(
    ([inAir = 0, inLiquid = 0, liquid = 0, air = 0, formula = 0]) =>
      densityFrom(inAir, inLiquid, densityOf(liquid) + formula, air),
    [
      {
        contribution: 'reading in air',
        value: input.readingInAirGrams,
        standardUncertainty: reading,
      },
      {
        contribution: 'reading in the liquid',
        value: input.readingInLiquidGrams,
        standardUncertainty: reading,
      },
      figure,
      {
        contribution: 'air density',
        value: input.airDensityKilogramsPerCubicMetre,
        standardUncertainty: input.airDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
      },
      { contribution: 'water formula', value: 0, standardUncertainty: formulaUncertainty },
    ],
  );
}

/** How the density found compares with the one expected; nulls when none is expected. */
function compareWithExpected(input: HydrostaticDensityInput, found: number, uncertainty: number) {
  const expected = input.expectedDensityKilogramsPerCubicMetre;
  if (expected === undefined) return { difference: null, agrees: null };
  const other = input.expectedDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0;
  const difference = found - expected;
  return { difference, agrees: Math.abs(difference) <= 2 * Math.hypot(uncertainty, other) };
}

function densityWords(
  input: HydrostaticDensityInput,
  output: Omit<HydrostaticDensityOutput, 'words'>,
): string {
  const print = (value: number) => roundNumberText(value, 1, 'half-even');
  const found = `Density ${print(output.densityKilogramsPerCubicMetre)} kg/m³ with expanded uncertainty ${print(output.expandedUncertaintyKilogramsPerCubicMetre)} kg/m³ (k = 2).`;
  if (output.agrees === null) return found;
  const expected = input.expectedDensityKilogramsPerCubicMetre;
  return output.agrees
    ? `${found} It agrees with the ${expected} kg/m³ expected; tungsten in gold would agree too, so this alone proves nothing.`
    : `${found} It departs from the ${expected} kg/m³ expected by ${print(output.differenceKilogramsPerCubicMetre ?? 0)} kg/m³: set the piece apart.`;
}

/**
 * Density of a piece weighed in air and in a liquid, corrected for the buoyancy of air.
 *
 * Formula: ρ = Wa·(ρl − ρa)/(Wa − Wl) + ρa, Wa and Wl the readings in air and liquid, ρl and ρa the
 * densities of liquid and air; water by `waterDensity`, with dissolved air 0.106e-3·t − 4.612e-3
 * kg/m³ more. Each part of the uncertainty is half the change of the density between a figure plus
 * and minus its standard uncertainty.
 *
 * @param input readings in g, that in the liquid the smaller; water temperature or density of
 *   another liquid; air density in kg/m³; standard uncertainties (0 when absent); density expected
 * @returns density in kg/m³ with uncertainty and budget, volume in mm³, comparison; not rounded
 * @throws DomainError when the reading in the liquid is not below that in air, its standard
 *   uncertainty exceeds a quarter of the loss, or water with dissolved air is above 25 °C
 * Validity: no bubbles, cradle tared at equal depth; both readings with one balance, so that its
 * adjustment cancels. Tungsten has the density of gold. See reference/hydrostatic-density.
 * Source: hydrostatic weighing, formula of published balance instructions; Tanaka et al. (2001),
 * Metrologia 38, 301-309; JCGM 100:2008, 5.1.3 note 2
 * @example hydrostaticDensity({ readingInAirGrams: 31.1035, readingInLiquidGrams: 29.4873,
 *   liquid: { kind: 'other', densityKilogramsPerCubicMetre: 998.2 },
 *   airDensityKilogramsPerCubicMetre: 1.2 }).densityKilogramsPerCubicMetre // 19188
 */
export function hydrostaticDensity(input: HydrostaticDensityInput): HydrostaticDensityOutput {
  const { readingInAirGrams: inAir, readingInLiquidGrams: inLiquid } = input;
  requireDomain(inLiquid < inAir, {
    field: 'readingInLiquidGrams',
    value: inLiquid,
    accepted: `a reading below that in air, ${inAir} g`,
  });
  requireModestUncertainty(
    'readingStandardUncertaintyMilligrams',
    input.readingStandardUncertaintyMilligrams ?? 0,
    1000 * (inAir - inLiquid),
  );
  const { figure, densityOf } = liquidModel(input.liquid);
  const liquid = densityOf(figure.value);
  const air = input.airDensityKilogramsPerCubicMetre;
  const found = densityFrom(inAir, inLiquid, liquid, air);
  const parts = uncertaintyParts(input);
  const uncertainty = combinedUncertainty(parts);
  const { difference, agrees } = compareWithExpected(input, found, uncertainty);
  const output = {
    densityKilogramsPerCubicMetre: found,
    standardUncertaintyKilogramsPerCubicMetre: uncertainty,
    expandedUncertaintyKilogramsPerCubicMetre: 2 * uncertainty,
    uncorrectedDensityKilogramsPerCubicMetre: (inAir * liquid) / (inAir - inLiquid),
    liquidDensityKilogramsPerCubicMetre: liquid,
    volumeCubicMillimetres: volumeOf(inAir - inLiquid, liquid - air),
    budget: budgetLines(parts),
    differenceKilogramsPerCubicMetre: difference,
    agrees,
  };
  return { ...output, words: densityWords(input, output) };
}

function drawDensity(
  input: HydrostaticDensityInput,
  output: HydrostaticDensityOutput,
): (Chart | LimitRule)[] {
  const lines = output.budget.filter((line) => line.standardUncertainty > 0);
  const chart: Chart = {
    kind: 'chart',
    title: 'Parts of the uncertainty',
    xTitle: 'Contribution',
    yTitle: 'Standard uncertainty, kg/m³',
    series: [
      {
        label: 'part',
        kind: 'bars',
        x: lines.map((_, at) => at + 1),
        y: lines.map((line) => line.standardUncertainty),
      },
    ],
    xNames: lines.map((line, at) => ({ x: at + 1, name: line.contribution })),
  };
  const expected = input.expectedDensityKilogramsPerCubicMetre;
  if (expected === undefined) return [chart];
  const band = 2 * (input.expectedDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0);
  const rule: LimitRule = {
    kind: 'limit-rule',
    title: 'Density against that expected',
    unit: 'kg/m³',
    value: output.densityKilogramsPerCubicMetre,
    expandedUncertainty: output.expandedUncertaintyKilogramsPerCubicMetre,
    lowerLimit: expected - band,
    upperLimit: expected + band,
    words: output.words,
  };
  return [rule, chart];
}

export const hydrostaticDensityCalculation = defineCalculation<
  HydrostaticDensityInput,
  HydrostaticDensityOutput
>({
  id: 'hydrostatic-density',
  version: 1,
  topic: 'physical',
  title: 'Density by weighing in water',
  purpose:
    'Finds the density of a piece from its readings in air and in water, with uncertainty, and compares it with that of its alloy; a screen, never a proof.',
  source:
    'Hydrostatic weighing with correction for air; M. Tanaka et al. (2001), Metrologia 38, 301-309 (water); JCGM 100:2008, 5.1.3',
  input: hydrostaticDensityInput,
  output: hydrostaticDensityOutput,
  // Readings of reference/hydrostatic-density, there with water of 998.2 kg/m³: 19188 kg/m³.
  example: {
    readingInAirGrams: 31.1035,
    readingInLiquidGrams: 29.4873,
    readingStandardUncertaintyMilligrams: 0.5,
    liquid: {
      kind: 'water',
      temperatureCelsius: 20,
      temperatureStandardUncertaintyKelvin: 0.2,
      dissolvedAir: 'saturated',
    },
    airDensityKilogramsPerCubicMetre: 1.2,
    airDensityStandardUncertaintyKilogramsPerCubicMetre: 0.02,
    expectedDensityKilogramsPerCubicMetre: 19_300,
    expectedDensityStandardUncertaintyKilogramsPerCubicMetre: 20,
  },
  compute: hydrostaticDensity,
  draw: drawDensity,
});

export { waterDensity };
