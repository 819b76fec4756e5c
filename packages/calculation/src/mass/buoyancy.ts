import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import {
  budgetLines,
  combinedUncertainty,
  modelParts,
  requireModestUncertainty,
} from './budget-parts.ts';
import {
  type BuoyancyInput,
  type BuoyancyOutput,
  buoyancyInput,
  buoyancyOutput,
} from './buoyancy-schema.ts';
import {
  type BuoyancyDensities,
  conventionalDensities,
  conventionalFactor,
  conventionalMass,
  massOfReading,
  readingOfMass,
} from './buoyant-mass.ts';

export {
  type BuoyancyInput,
  type BuoyancyOutput,
  buoyancyInput,
  buoyancyOutput,
} from './buoyancy-schema.ts';

/** True mass in grams from whatever is known. */
function trueMass(known: BuoyancyInput['known'], value: number, densities: BuoyancyDensities) {
  if (known === 'reading') return massOfReading(value, densities);
  if (known === 'mass') return value;
  return value / conventionalFactor(densities.object);
}

/** The known value and the densities with their uncertainties, in grams and kg/m³. */
function uncertainFigures(input: BuoyancyInput) {
  const air = input.airDensityKilogramsPerCubicMetre;
  return [
    {
      contribution: input.known,
      value: input.valueGrams,
      standardUncertainty: (input.valueStandardUncertaintyMilligrams ?? 0) / 1000,
    },
    {
      contribution: 'density of the object',
      value: input.objectDensityKilogramsPerCubicMetre,
      standardUncertainty: input.objectDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
    },
    {
      contribution: 'air density',
      value: air,
      standardUncertainty: input.airDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
    },
    {
      contribution: 'density of the adjusting weight',
      value: input.adjustingWeightDensityKilogramsPerCubicMetre ?? conventionalDensities.weight,
      standardUncertainty:
        input.adjustingWeightDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
    },
  ];
}

function requireModestDensities(input: BuoyancyInput): void {
  requireModestUncertainty(
    'objectDensityStandardUncertaintyKilogramsPerCubicMetre',
    input.objectDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
    input.objectDensityKilogramsPerCubicMetre,
  );
  requireModestUncertainty(
    'adjustingWeightDensityStandardUncertaintyKilogramsPerCubicMetre',
    input.adjustingWeightDensityStandardUncertaintyKilogramsPerCubicMetre ?? 0,
    input.adjustingWeightDensityKilogramsPerCubicMetre ?? conventionalDensities.weight,
  );
}

/** Densities from the figures; the air of the adjustment is that of now unless it was given. */
function densitiesOf(input: BuoyancyInput, values: readonly number[]): BuoyancyDensities {
  const [, object = 0, air = 0, adjustingWeight = 0] = values;
  return {
    object,
    air,
    adjustingWeight,
    adjustingAir: input.adjustingAirDensityKilogramsPerCubicMetre ?? air,
  };
}

/** Budget in milligrams of a mass that a model gives in grams. */
function milligramParts(input: BuoyancyInput, model: (values: readonly number[]) => number) {
  return modelParts((values) => 1000 * model(values), uncertainFigures(input));
}

function buoyancyWords(input: BuoyancyInput, output: Omit<BuoyancyOutput, 'words'>): string {
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const sign = output.correctionMilligrams < 0 ? 'below' : 'above';
  const basis = input.known === 'reading' ? 'the reading' : 'what the balance would show';
  return `True mass ${print(output.massGrams, 6)} g (standard uncertainty ${print(output.massStandardUncertaintyMilligrams, 4)} mg), ${print(Math.abs(output.correctionMilligrams), 4)} mg ${sign} ${basis}; conventional mass ${print(output.conventionalMassGrams, 6)} g.`;
}

/**
 * Buoyancy: true mass, conventional mass and balance reading of one object, from any one of them.
 *
 * Formula: reading and true mass as `massOfReading`; mc = m·(1 − 1.2/ρ)/(1 − 1.2/8000). Each part of
 * the uncertainty is half the change of the result between the figure plus and minus its standard
 * uncertainty; the air density counts at weighing and adjustment alike unless the air of the
 * adjustment is given.
 *
 * @param input which of the three is known; its value above 0 g; densities of object (500 to 25 000
 *   kg/m³), air (0 to 2 kg/m³) and adjusting weight (8000 when absent); standard uncertainties
 * @returns the three masses in g with standard uncertainties in mg and budgets; the correction, true
 *   mass less reading, in mg; nothing rounded but words
 * @throws DomainError when a standard uncertainty of a density exceeds a quarter of it
 * Validity: exact relations; figures independent of one another. laws/mass-buoyancy.test.ts holds
 * the uncertainties against simulation. See reference/buoyancy.
 * Source: OIML D 28:2004; OIML R 111-1:2004, Annex E; JCGM 100:2008, 5.1.3 note 2
 * @example buoyancy({ known: 'reading', valueGrams: 2, objectDensityKilogramsPerCubicMetre: 2700,
 *   airDensityKilogramsPerCubicMetre: 1.2 }).massGrams // 2.000589
 */
export function buoyancy(input: BuoyancyInput): BuoyancyOutput {
  requireModestDensities(input);
  const massOf = (values: readonly number[]) =>
    trueMass(input.known, values[0] ?? 0, densitiesOf(input, values));
  const conventionalOf = (values: readonly number[]) =>
    conventionalMass(massOf(values), values[1] ?? 0);
  const readingOf = (values: readonly number[]) =>
    readingOfMass(massOf(values), densitiesOf(input, values));
  const values = uncertainFigures(input).map((one) => one.value);
  const massParts = milligramParts(input, massOf);
  const conventionalParts = milligramParts(input, conventionalOf);
  const output = {
    massGrams: massOf(values),
    massStandardUncertaintyMilligrams: combinedUncertainty(massParts),
    conventionalMassGrams: conventionalOf(values),
    conventionalMassStandardUncertaintyMilligrams: combinedUncertainty(conventionalParts),
    readingGrams: readingOf(values),
    readingStandardUncertaintyMilligrams: combinedUncertainty(milligramParts(input, readingOf)),
    correctionMilligrams: 1000 * (massOf(values) - readingOf(values)),
    massBudget: budgetLines(massParts),
    conventionalMassBudget: budgetLines(conventionalParts),
  };
  return { ...output, words: buoyancyWords(input, output) };
}

/** Metals of the trade and a light one, by density in kg/m³, for the curve. */
const markedDensities = [
  { x: 2700, label: 'aluminium' },
  { x: 10_500, label: 'silver' },
  { x: 19_300, label: 'gold' },
] as const;

function drawBuoyancy(input: BuoyancyInput, output: BuoyancyOutput): Chart[] {
  const values = uncertainFigures(input).map((one) => one.value);
  const x = Array.from({ length: 80 }, (_, at) => 2000 + 250 * at);
  const y = x.map((density) => {
    const densities = densitiesOf(input, values.with(1, density));
    return 1000 * (massOfReading(output.readingGrams, densities) - output.readingGrams);
  });
  return [
    {
      kind: 'chart',
      title: 'Buoyancy correction of this reading',
      xTitle: 'Density of the object, kg/m³',
      yTitle: 'True mass less reading, mg',
      series: [
        { label: 'this air', kind: 'line', x, y },
        {
          label: 'this object',
          kind: 'points',
          x: [input.objectDensityKilogramsPerCubicMetre],
          y: [output.correctionMilligrams],
        },
      ],
      marks: markedDensities,
      levels: [{ y: 0, label: 'no correction' }],
    },
  ];
}

export const buoyancyCalculation = defineCalculation<BuoyancyInput, BuoyancyOutput>({
  id: 'buoyancy',
  version: 1,
  topic: 'mass',
  title: 'Air buoyancy',
  purpose:
    'Turns a balance reading into true and conventional mass, or the other way, from the densities of object and air, with uncertainty.',
  source:
    'OIML D 28:2004 (8000 kg/m³ and 1.2 kg/m³); OIML R 111-1:2004, Annex E; JCGM 100:2008, 5.1.3',
  input: buoyancyInput,
  output: buoyancyOutput,
  // The aluminium sample of a published balance manual, see reference/buoyancy: 2.000589 g.
  example: {
    known: 'reading',
    valueGrams: 2,
    objectDensityKilogramsPerCubicMetre: 2700,
    airDensityKilogramsPerCubicMetre: 1.2,
    valueStandardUncertaintyMilligrams: 0.02,
    objectDensityStandardUncertaintyKilogramsPerCubicMetre: 10,
    airDensityStandardUncertaintyKilogramsPerCubicMetre: 0.01,
  },
  compute: buoyancy,
  draw: drawBuoyancy,
});
