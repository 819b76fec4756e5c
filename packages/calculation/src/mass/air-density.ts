import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  type AirDensityInput,
  type AirDensityOutput,
  airDensityInput,
  airDensityOutput,
} from './air-density-schema.ts';
import { type BudgetPart, budgetLines, combinedUncertainty, modelParts } from './budget-parts.ts';
import {
  type AirState,
  compressibilityFactor,
  enhancementFactor,
  moistAirDensity,
  saturationVapourPressure,
  simplifiedAirDensity,
  vapourFraction,
} from './moist-air.ts';

export {
  type AirDensityInput,
  type AirDensityOutput,
  airDensityInput,
  airDensityOutput,
} from './air-density-schema.ts';

interface FormulaScope {
  readonly density: (state: AirState) => number;
  readonly temperature: readonly [number, number];
  readonly pressure: readonly [number, number];
  readonly greatestHumidity: number;
  /** Relative standard uncertainty of the formula itself. */
  readonly relativeUncertainty: number;
}

/** Where each formula is stated to hold, and how well. */
const scopeByFormula: Readonly<Record<AirDensityInput['formula'], FormulaScope>> = {
  'CIPM-2007': {
    density: moistAirDensity,
    temperature: [15, 27],
    pressure: [600, 1100],
    greatestHumidity: 100,
    relativeUncertainty: 22e-6,
  },
  simplified: {
    density: simplifiedAirDensity,
    temperature: [10, 30],
    pressure: [900, 1100],
    greatestHumidity: 80,
    relativeUncertainty: 2e-4,
  },
};

/** Mole fraction of carbon dioxide for which the molar mass of dry air is stated. */
const usualCarbonDioxidePartsPerMillion = 400;

function requireScope(input: AirDensityInput, scope: FormulaScope): void {
  const within = (
    field: keyof AirDensityInput & string,
    range: readonly number[],
    unit: string,
  ) => {
    const value = input[field] as number;
    const [least = 0, greatest = 0] = range;
    requireDomain(value >= least && value <= greatest, {
      field,
      value,
      accepted: `from ${least} to ${greatest} ${unit}, the range of the formula ${input.formula}`,
    });
  };
  within('temperatureCelsius', scope.temperature, '°C');
  within('pressureHectopascals', scope.pressure, 'hPa');
  within('relativeHumidityPercent', [0, scope.greatestHumidity], '%');
}

/** The state of the air from its four figures in the units of the input. */
function stateOf(values: readonly number[]): AirState {
  const [celsius = 0, hectopascals = 0, percent = 0, partsPerMillion = 0] = values;
  return {
    temperatureCelsius: celsius,
    pressurePascals: 100 * hectopascals,
    humidityFraction: percent / 100,
    carbonDioxideFraction: partsPerMillion * 1e-6,
  };
}

function uncertainAir(input: AirDensityInput) {
  return [
    {
      contribution: 'temperature',
      value: input.temperatureCelsius,
      standardUncertainty: input.temperatureStandardUncertaintyKelvin ?? 0,
    },
    {
      contribution: 'pressure',
      value: input.pressureHectopascals,
      standardUncertainty: input.pressureStandardUncertaintyHectopascals ?? 0,
    },
    {
      contribution: 'humidity',
      value: input.relativeHumidityPercent,
      standardUncertainty: input.humidityStandardUncertaintyPercent ?? 0,
    },
    {
      contribution: 'carbon dioxide',
      value: input.carbonDioxidePartsPerMillion ?? usualCarbonDioxidePartsPerMillion,
      standardUncertainty: input.carbonDioxideStandardUncertaintyPartsPerMillion ?? 0,
    },
  ];
}

/**
 * Density of the air about a balance with its uncertainty, for buoyancy.
 *
 * Formula: the full one as `moistAirDensity` or the short one as `simplifiedAirDensity`. Each
 * reading's part in the uncertainty is half the change of the density between the reading plus and
 * minus its standard uncertainty; the formula itself adds 22e-6 (full) or 2e-4 (short) of the
 * density.
 *
 * @param input formula; temperature in °C, pressure in hPa, humidity in %, carbon dioxide in
 *   µmol/mol (400 when absent), each with a standard uncertainty (0 when absent)
 * @returns density in kg/m³ with standard and expanded uncertainty (k = 2) and budget; both
 *   formulas side by side; parts of the full one; nothing rounded but words
 * @throws DomainError outside the stated range of the formula: full 15 °C to 27 °C and 600 hPa to
 *   1100 hPa, short 10 °C to 30 °C, 900 hPa to 1100 hPa and at most 80 %
 * Validity: readings independent of one another. See reference/air-density.
 * Source: A. Picard et al. (2008), CIPM-2007, Metrologia 45, 149-155; OIML R 111-1:2004, E.3 (E.3-1
 * and its range, range and 2e-4 from memory); JCGM 100:2008, 5.1.3 note 2
 * @example airDensity({ formula: 'CIPM-2007', temperatureCelsius: 20, pressureHectopascals: 1013.25,
 *   relativeHumidityPercent: 50 }).densityKilogramsPerCubicMetre // 1.199314
 */
export function airDensity(input: AirDensityInput): AirDensityOutput {
  const scope = scopeByFormula[input.formula];
  requireScope(input, scope);
  const readings = uncertainAir(input);
  const state = stateOf(readings.map((one) => one.value));
  const density = scope.density(state);
  const parts: BudgetPart[] = [
    ...modelParts((values) => scope.density(stateOf(values)), readings),
    { contribution: 'formula', standardUncertainty: scope.relativeUncertainty * density },
  ];
  const standardUncertainty = combinedUncertainty(parts);
  const { temperatureCelsius, pressurePascals } = state;
  const vapour = vapourFraction(state);
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  return {
    densityKilogramsPerCubicMetre: density,
    standardUncertaintyKilogramsPerCubicMetre: standardUncertainty,
    expandedUncertaintyKilogramsPerCubicMetre: 2 * standardUncertainty,
    relativeStandardUncertaintyPartsPerMillion: (1e6 * standardUncertainty) / density,
    cipmDensityKilogramsPerCubicMetre: moistAirDensity(state),
    simplifiedDensityKilogramsPerCubicMetre: simplifiedAirDensity(state),
    saturationVapourPressurePascals: saturationVapourPressure(temperatureCelsius + 273.15),
    enhancementFactor: enhancementFactor(temperatureCelsius, pressurePascals),
    vapourMoleFraction: vapour,
    compressibilityFactor: compressibilityFactor(temperatureCelsius, pressurePascals, vapour),
    budget: budgetLines(parts),
    words: `Air density ${print(density, 5)} kg/m³ with expanded uncertainty ${print(2 * standardUncertainty, 5)} kg/m³ (k = 2) by the formula ${input.formula}; conventional mass is defined at 1.2 kg/m³.`,
  };
}

function drawAirDensity(input: AirDensityInput): Chart[] {
  const [least, greatest] = scopeByFormula[input.formula].temperature;
  const x = Array.from({ length: 41 }, (_, at) => least + ((greatest - least) * at) / 40);
  const [, ...others] = uncertainAir(input).map((one) => one.value);
  const { density } = scopeByFormula[input.formula];
  return [
    {
      kind: 'chart',
      title: 'Air density with temperature',
      xTitle: 'Air temperature, °C',
      yTitle: 'Air density, kg/m³',
      series: [
        {
          label: 'this air',
          kind: 'line',
          x,
          y: x.map((celsius) => density(stateOf([celsius, ...others]))),
        },
      ],
      marks: [{ x: input.temperatureCelsius, label: 'now' }],
      levels: [{ y: 1.2, label: 'conventional' }],
    },
  ];
}

export const airDensityCalculation = defineCalculation<AirDensityInput, AirDensityOutput>({
  id: 'air-density',
  version: 1,
  topic: 'mass',
  title: 'Air density',
  purpose:
    'Finds the density of the air about the balance from temperature, pressure and humidity, with its uncertainty, so that buoyancy can be corrected.',
  source:
    'A. Picard, R. S. Davis, M. Gläser, K. Fujii (2008), CIPM-2007, Metrologia 45, 149-155; OIML R 111-1:2004, E.3; JCGM 100:2008, 5.1.3',
  input: airDensityInput,
  output: airDensityOutput,
  // Constants of CIPM-2007 evaluated, see reference/air-density: 1.19931 kg/m³.
  example: {
    formula: 'CIPM-2007',
    temperatureCelsius: 20,
    pressureHectopascals: 1013.25,
    relativeHumidityPercent: 50,
    temperatureStandardUncertaintyKelvin: 0.1,
    pressureStandardUncertaintyHectopascals: 0.2,
    humidityStandardUncertaintyPercent: 2,
  },
  compute: airDensity,
  draw: drawAirDensity,
});
