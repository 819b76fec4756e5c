import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { requireDomain } from '../quantity/domain.ts';
import { normalQuantile } from '../quantity/normal.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { labelField, numberField, outputNumber } from './fields.ts';
import { flagOf, screenOutputShape, screenReminder, screenShape } from './screen-fields.ts';

const densityUnit = 'g/cm³';
const density = (title: string, description?: string) =>
  numberField('a density', 0.5, 30, densityUnit).meta({
    title,
    unit: densityUnit,
    ...(description === undefined ? {} : { description }),
  });

export const densityScreenInput = z.strictObject({
  ...screenShape,
  fineMetal: labelField('Precious metal'),
  fineDensityGramsPerCubicCentimetre: density(
    'Density of the precious metal',
    'Gold 19.30, silver 10.49 at 20 °C',
  ),
  alloyMetal: labelField('The other metal'),
  alloyDensityGramsPerCubicCentimetre: density(
    'Density of the other metal',
    'Copper 8.96 at 20 °C',
  ),
  massInAirGrams: numberField('a mass', 0.001, 100_000, 'g').meta({
    title: 'Mass in air',
    unit: 'g',
  }),
  massInLiquidGrams: numberField('a mass', 0.0001, 100_000, 'g').meta({
    title: 'Apparent mass in the liquid',
    unit: 'g',
  }),
  massStandardUncertaintyGrams: numberField('a standard uncertainty', 0, 100, 'g').meta({
    title: 'Standard uncertainty of one weighing',
    unit: 'g',
  }),
  liquidDensityGramsPerCubicCentimetre: density('Density of the liquid', 'At its temperature'),
  liquidStandardUncertaintyGramsPerCubicCentimetre: numberField(
    'a standard uncertainty',
    0,
    1,
    densityUnit,
  ).meta({ title: 'Standard uncertainty of that density', unit: densityUnit }),
  mixingRelativeUncertaintyPercent: numberField('a relative uncertainty', 0, 10, '%').meta({
    title: 'Allowance for mixing and pores',
    description:
      'Relative standard uncertainty of the density that the ideal rule gives; 0.3 to 0.5 is common practice for worked alloys',
    unit: '%',
  }),
});

export type DensityScreenInput = z.infer<typeof densityScreenInput>;

export const densityScreenOutput = z.strictObject({
  densityGramsPerCubicCentimetre: outputNumber('Density', densityUnit),
  densityStandardUncertaintyGramsPerCubicCentimetre: outputNumber(
    'Standard uncertainty of the density',
    densityUnit,
    'Of the weighings and the liquid',
  ),
  expectedDensityGramsPerCubicCentimetre: outputNumber(
    'Density of the declared alloy',
    densityUnit,
    'Mixed ideally from two metals',
  ),
  indicatedFinenessPerMille: outputNumber(
    'Indicated fineness',
    '‰',
    'As if of two metals alone; may lie outside 0 to 1000',
  ),
  indicatedStandardUncertaintyPerMille: outputNumber('Its standard uncertainty', '‰'),
  ...screenOutputShape,
});

export type DensityScreenOutput = z.infer<typeof densityScreenOutput>;

/** A half-interval of the fineness wider than this says nothing: own choice. */
const widestUsefulPerMille = 50;
/** Density of air at 20 °C and ordinary pressure, in g/cm³. */
const airDensity = 0.0012;

/**
 * Screen of a piece by its density: what it should be for the declared alloy of two metals, what
 * was found, and whether the two deviate. Tungsten and other mixtures can have the density of the
 * alloy, so that it never shows a piece to be good.
 *
 * Formula: ρ = (m_a·ρ_l − m_l·ρ_air)/(m_a − m_l), m_a mass in air, m_l in the liquid, ρ_air
 * 0.0012 g/cm³. Ideal mixing adds specific volumes: 1/ρ = w/ρ₁ + (1 − w)/ρ₂; hence w =
 * (1/ρ − 1/ρ₂)/(1/ρ₁ − 1/ρ₂). u(ρ) by first order from both weighings and the liquid; the
 * allowance for mixing is added as a relative uncertainty of ρ before it is compared or turned
 * into a fineness.
 *
 * @param input masses in g, densities in g/cm³ of two metals that differ, liquid at its temperature
 * @returns densities, indicated fineness with u, and a flag that has no state for a pass; not rounded
 * @throws DomainError when the piece floats or weighs no less in the liquid, or the metals are alike
 * Validity: a solid piece without bubbles on it; binary alloy. Alloys of three metals need the
 * density of their own.
 * Source: Archimedes' principle with air buoyancy; ideal mixing by specific volumes: common
 * practice; densities as in the CRC Handbook; JCGM 100:2008, 5.1.2
 * @example densityScreen(densityScreenCalculation.example).expectedDensityGramsPerCubicCentimetre // 17.6074
 */
export function densityScreen(input: DensityScreenInput): DensityScreenOutput {
  const { massInAirGrams: inAir, massInLiquidGrams: inLiquid } = input;
  requireDomain(inLiquid < inAir, {
    field: 'massInLiquidGrams',
    value: inLiquid,
    accepted: `a mass below the mass in air of ${inAir} g`,
  });
  const { fineDensityGramsPerCubicCentimetre: fine, alloyDensityGramsPerCubicCentimetre: other } =
    input;
  requireDomain(Math.abs(fine / other - 1) > 0.01, {
    field: 'alloyDensityGramsPerCubicCentimetre',
    value: other,
    accepted: `a density that differs from ${fine} g/cm³ by more than 1 %`,
  });
  const liquid = input.liquidDensityGramsPerCubicCentimetre;
  const lost = inAir - inLiquid;
  const found = (inAir * liquid - inLiquid * airDensity) / lost;
  // Derivatives of ρ by the two weighings and the liquid.
  const byAir = (inLiquid * (airDensity - liquid)) / lost ** 2;
  const byLiquidMass = (inAir * (liquid - airDensity)) / lost ** 2;
  const measured = Math.hypot(
    byAir * input.massStandardUncertaintyGrams,
    byLiquidMass * input.massStandardUncertaintyGrams,
    (inAir / lost) * input.liquidStandardUncertaintyGramsPerCubicCentimetre,
  );
  const share = input.declaredFinenessPerMille / 1000;
  const expected = 1 / (share / fine + (1 - share) / other);
  const total = Math.hypot(measured, (found * input.mixingRelativeUncertaintyPercent) / 100);
  const span = 1 / fine - 1 / other;
  const indicated = (1000 * (1 / found - 1 / other)) / span;
  const indicatedUncertainty = (1000 * total) / found ** 2 / Math.abs(span);
  const k = normalQuantile(0.5 + input.confidencePercent / 200);
  const deviation = found - expected;
  const useful = (widestUsefulPerMille / 1000) * found ** 2 * Math.abs(span);
  const { flag, ratio } = flagOf(deviation, total, k, useful);
  const print = (value: number, places: number) => roundNumberText(value, places, 'half-even');
  const said = {
    deviates: `deviates from ${print(expected, 3)} g/cm³ of the declared alloy: assay it`,
    'no deviation seen': `shows no deviation from ${print(expected, 3)} g/cm³ of the declared alloy`,
    'cannot tell':
      'is known too poorly to say anything: weigh a larger piece or on a finer balance',
  }[flag];
  return {
    densityGramsPerCubicCentimetre: found,
    densityStandardUncertaintyGramsPerCubicCentimetre: measured,
    expectedDensityGramsPerCubicCentimetre: expected,
    indicatedFinenessPerMille: indicated,
    indicatedStandardUncertaintyPerMille: indicatedUncertainty,
    flag,
    deviationInStandardUncertainties: ratio,
    words: `The density of ${input.label}, ${print(found, 3)} g/cm³, ${said}. ${screenReminder}`,
  };
}

function drawDensity(input: DensityScreenInput, output: DensityScreenOutput): Chart[] {
  const x = Array.from({ length: 51 }, (_, i) => i * 20);
  const { fineDensityGramsPerCubicCentimetre: fine, alloyDensityGramsPerCubicCentimetre: other } =
    input;
  const spread = 2 * output.densityStandardUncertaintyGramsPerCubicCentimetre;
  const found = output.densityGramsPerCubicCentimetre;
  return [
    {
      kind: 'chart',
      title: 'Density of the ideal alloy',
      xTitle: `Fineness of ${input.fineMetal}, ‰`,
      yTitle: 'Density, g/cm³',
      series: [
        {
          label: 'ideal alloy',
          kind: 'line',
          x,
          y: x.map((value) => 1 / (value / 1000 / fine + (1 - value / 1000) / other)),
        },
        {
          label: 'piece',
          kind: 'points',
          x: [input.declaredFinenessPerMille],
          y: [found],
          lower: [found - spread],
          upper: [found + spread],
          standsOut: output.flag === 'deviates',
        },
      ],
      marks: [{ x: input.declaredFinenessPerMille, label: 'declared' }],
    },
  ];
}

export const densityScreenCalculation = defineCalculation<DensityScreenInput, DensityScreenOutput>({
  id: 'density-screen',
  version: 1,
  topic: 'assay',
  title: 'Screen by density',
  purpose:
    'Compares the density of a piece with that of its declared alloy and says what fineness it would indicate; it raises doubts and never passes a piece.',
  source:
    "Archimedes' principle with air buoyancy; ideal mixing by specific volumes: common practice; densities as in the CRC Handbook; JCGM 100:2008, 5.1.2",
  input: densityScreenInput,
  output: densityScreenOutput,
  example: {
    label: 'Piece 7',
    declaredFinenessPerMille: 916.7,
    fineMetal: 'gold',
    fineDensityGramsPerCubicCentimetre: 19.3,
    alloyMetal: 'copper',
    alloyDensityGramsPerCubicCentimetre: 8.96,
    massInAirGrams: 33.93,
    massInLiquidGrams: 32.006,
    massStandardUncertaintyGrams: 0.002,
    liquidDensityGramsPerCubicCentimetre: 0.9982,
    liquidStandardUncertaintyGramsPerCubicCentimetre: 0.0002,
    mixingRelativeUncertaintyPercent: 0.4,
    confidencePercent: 95,
  },
  compute: densityScreen,
  draw: drawDensity,
});
