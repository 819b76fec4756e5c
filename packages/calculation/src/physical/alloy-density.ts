import { z } from 'zod';
import { type Chart, defineCalculation } from '../catalogue/calculation.ts';
import { numberField } from '../mass/number-field.ts';
import {
  compareDecimals,
  decimalOfInteger,
  decimalOfNumber,
  shortTextOfDecimal,
  sumDecimals,
} from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { roundNumberText } from '../quantity/rounding.ts';
import { compensatedSum } from '../quantity/sum.ts';

/** Densities of the elements at 20 °C in kg/m³ (CRC Handbook of Chemistry and Physics, 80th ed.). */
export const elementDensities = {
  Au: 19_300,
  Ag: 10_500,
  Cu: 8960,
  Pt: 21_450,
  Pd: 12_020,
  Zn: 7133,
  Ni: 8902,
  Ir: 22_420,
  Rh: 12_410,
} as const;

const symbols = Object.keys(elementDensities) as (keyof typeof elementDensities)[];

const component = z.strictObject({
  element: z.enum(symbols, { error: `one of ${symbols.join(', ')}` }).meta({ title: 'Element' }),
  massFractionPerMille: numberField('mass fraction', { above: 0, greatest: 1000, unit: '‰' }).meta({
    title: 'Mass fraction',
    unit: '‰',
  }),
  densityKilogramsPerCubicMetre: numberField('density', {
    least: 500,
    greatest: 25_000,
    unit: 'kg/m³',
  })
    .optional()
    .meta({
      title: 'Density of the element',
      description: 'None takes that of the handbook',
      unit: 'kg/m³',
    }),
});

export const alloyDensityInput = z.strictObject({
  components: z
    .array(component, { error: 'a list of 1 to 9 elements' })
    .min(1, { error: 'at least one element' })
    .max(9, { error: 'at most 9 elements' })
    .refine((items) => new Set(items.map((item) => item.element)).size === items.length, {
      error: 'each element once',
    })
    .meta({ title: 'Composition', description: 'Mass fractions that add to 1000 ‰' }),
  departurePercent: numberField('departure', { greatest: 20, unit: '%' }).meta({
    title: 'Departure from additive volumes',
    description:
      'By which real alloys of this kind may differ, plus or minus; some tenths to a few percent',
    unit: '%',
  }),
});

export type AlloyDensityInput = z.infer<typeof alloyDensityInput>;

const density = (title: string) => z.number().meta({ title, unit: 'kg/m³' });

export const alloyDensityOutput = z.strictObject({
  densityKilogramsPerCubicMetre: density('Density of the alloy'),
  lowestDensityKilogramsPerCubicMetre: density('Lowest density to expect'),
  highestDensityKilogramsPerCubicMetre: density('Highest density to expect'),
  specificVolumeCubicMillimetresPerGram: z
    .number()
    .meta({ title: 'Specific volume', unit: 'mm³/g' }),
  components: z
    .array(
      z.strictObject({
        element: z.string().meta({ title: 'Element' }),
        volumeFractionPercent: z.number().meta({ title: 'Volume fraction', unit: '%' }),
        changePerPerMille: z.number().meta({
          title: 'Change of the density for one per mille more',
          description: 'The others giving way in proportion',
          unit: 'kg/m³',
        }),
      }),
    )
    .meta({ title: 'Elements' }),
  words: z.string().meta({ title: 'In words' }),
});

export type AlloyDensityOutput = z.infer<typeof alloyDensityOutput>;

function requireWhole(input: AlloyDensityInput): void {
  const sum = sumDecimals(input.components.map((one) => decimalOfNumber(one.massFractionPerMille)));
  requireDomain(compareDecimals(sum, decimalOfInteger(1000n)) === 0, {
    field: 'components',
    value: `${shortTextOfDecimal(sum)} ‰ in all`,
    accepted: 'mass fractions that add to exactly 1000 ‰',
  });
}

/**
 * Density of an alloy from its composition, the volumes of its elements taken to add.
 *
 * Formula: 1/ρ = Σ wi/ρi; volume fraction wi·ρ/ρi; change for dw of one element, the others in
 * proportion: ρ·(1 − ρ/ρi)/(1 − wi) per unit, 0 for a pure element.
 *
 * @param input one to nine elements with mass fractions in ‰ that add to exactly 1000, each with its
 *   density in kg/m³ or that of the handbook; departure in percent
 * @returns density in kg/m³ with its range, specific volume, volume fractions; not rounded
 * @throws DomainError when the mass fractions do not add to 1000 ‰
 * Validity: real alloys depart by some tenths of a percent to a few percent, cast ones by their
 * pores. See reference/alloy-density.
 * Source: additive volumes; densities of the CRC Handbook of Chemistry and Physics, 80th ed.
 * @example alloyDensity({ components: [{ element: 'Ag', massFractionPerMille: 925 },
 *   { element: 'Cu', massFractionPerMille: 75 }], departurePercent: 0.5 })
 *   .densityKilogramsPerCubicMetre // 10366.371
 */
export function alloyDensity(input: AlloyDensityInput): AlloyDensityOutput {
  requireWhole(input);
  const parts = input.components.map((one) => ({
    element: one.element,
    fraction: one.massFractionPerMille / 1000,
    density: one.densityKilogramsPerCubicMetre ?? elementDensities[one.element],
  }));
  const volume = compensatedSum(parts.map((one) => one.fraction / one.density));
  const alloy = 1 / volume;
  const departure = input.departurePercent / 100;
  const lowest = alloy * (1 - departure);
  const highest = alloy * (1 + departure);
  const print = (value: number) => roundNumberText(value, 0, 'half-even');
  return {
    densityKilogramsPerCubicMetre: alloy,
    lowestDensityKilogramsPerCubicMetre: lowest,
    highestDensityKilogramsPerCubicMetre: highest,
    specificVolumeCubicMillimetresPerGram: 1e6 * volume,
    components: parts.map((one) => ({
      element: one.element,
      volumeFractionPercent: (100 * one.fraction * alloy) / one.density,
      changePerPerMille:
        one.fraction === 1 ? 0 : (alloy * (1 - alloy / one.density)) / (1 - one.fraction) / 1000,
    })),
    words: `An alloy of ${input.components.map((one) => `${one.massFractionPerMille} ‰ ${one.element}`).join(', ')} should have a density of ${print(alloy)} kg/m³, from ${print(lowest)} to ${print(highest)} kg/m³.`,
  };
}

function drawAlloyDensity(_input: AlloyDensityInput, output: AlloyDensityOutput): Chart[] {
  return [
    {
      kind: 'chart',
      title: 'Volume of the elements',
      xTitle: 'Element',
      yTitle: 'Volume fraction, %',
      series: [
        {
          label: 'volume',
          kind: 'bars',
          x: output.components.map((_, at) => at + 1),
          y: output.components.map((one) => one.volumeFractionPercent),
        },
      ],
      xNames: output.components.map((one, at) => ({ x: at + 1, name: one.element })),
    },
  ];
}

export const alloyDensityCalculation = defineCalculation<AlloyDensityInput, AlloyDensityOutput>({
  id: 'alloy-density',
  version: 1,
  topic: 'physical',
  title: 'Density of an alloy',
  purpose:
    'Gives the density to expect of an alloy from its mass fractions, to compare a weighed density with.',
  source:
    'Additive volumes (common practice); element densities of the CRC Handbook of Chemistry and Physics, 80th ed.',
  input: alloyDensityInput,
  output: alloyDensityOutput,
  // See reference/alloy-density: silver 925 with copper, 10.366 g/cm³.
  example: {
    components: [
      { element: 'Ag', massFractionPerMille: 925 },
      { element: 'Cu', massFractionPerMille: 75 },
    ],
    departurePercent: 0.5,
  },
  compute: alloyDensity,
  draw: drawAlloyDensity,
});
