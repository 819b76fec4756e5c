import { z } from 'zod';
import { defineCalculation } from '../catalogue/calculation.ts';
import { type Decimal, textOfDecimal } from '../quantity/decimal.ts';
import { requireDomain } from '../quantity/domain.ts';
import { type RoundingRule, roundingRules } from '../quantity/rounding.ts';
import {
  type MassUnit,
  massUnits,
  placesOfRatio,
  type Ratio,
  ratioAtPlaces,
  ratioOf,
  symbolByUnit,
  tensOfNanogramsByUnit,
} from './mass-units.ts';
import { integerField } from './number-field.ts';
import { exactDecimal, goodDeliverySteps, statedWeightOfFraction } from './troy-ounce.ts';

const massText =
  'a mass of at most 15 digits before the point, as a number or as decimal text such as 401.127; a minus stands for a difference';

export const convertMassInput = z.strictObject({
  mass: z
    .union(
      [
        z.number().min(-1e15, { error: massText }).max(1e15, { error: massText }),
        z.string().regex(/^-?\d{1,15}(\.\d{1,15})?$/, { error: massText }),
      ],
      { error: massText },
    )
    .meta({ title: 'Mass', description: 'Taken exactly as written' }),
  unit: z
    .enum(massUnits, { error: `one of ${massUnits.join(', ')}` })
    .meta({ title: 'Unit of the mass' }),
  decimalPlaces: integerField('number of decimal places', 0, 15).meta({
    title: 'Decimal places',
    description: 'To which every figure is rounded, once, from the exact ratio',
  }),
  roundingRule: z.enum(roundingRules, { error: `one of ${roundingRules.join(', ')}` }).meta({
    title: 'Rounding rule',
    description: 'down cuts a positive mass off, as truncation does',
  }),
});

export type ConvertMassInput = z.infer<typeof convertMassInput>;

const barText = (title: string, description: string) =>
  z.string().nullable().meta({ title, description, unit: 'ozt' });

export const convertMassOutput = z.strictObject({
  conversions: z
    .array(
      z.strictObject({
        unit: z.enum(massUnits).meta({ title: 'Unit' }),
        rounded: z.string().meta({ title: 'Mass, rounded' }),
        exact: z.string().nullable().meta({
          title: 'Mass, exact',
          description: 'None where the decimal figure never ends',
        }),
        numerator: z.string().meta({ title: 'Numerator of the exact ratio' }),
        denominator: z.string().meta({ title: 'Denominator of the exact ratio' }),
      }),
    )
    .meta({ title: 'The mass in every unit' }),
  goldBarTroyOunces: barText(
    'Gold bar, stated gross',
    'Multiple of 0.025 ozt, rounded down; none for a negative mass',
  ),
  goldBarTurnOfScaleTroyOunces: barText(
    'Gold bar on a beam balance, stated gross',
    'Multiple of 0.025 ozt that the bar exceeds by at least 0.002 ozt; none for a negative mass',
  ),
  silverBarTroyOunces: barText(
    'Silver bar, stated gross',
    'Multiple of 0.1 ozt, rounded down; none for a negative mass',
  ),
  words: z.string().meta({ title: 'In words' }),
});

export type ConvertMassOutput = z.infer<typeof convertMassOutput>;

/** A mass in one unit as an exact ratio of another. */
function ratioInUnit(mass: Decimal, from: MassUnit, to: MassUnit): Ratio {
  return ratioOf(
    mass.coefficient * tensOfNanogramsByUnit[from],
    10n ** BigInt(mass.places) * tensOfNanogramsByUnit[to],
  );
}

/** The exact decimal of a ratio as text; null for one that never ends. */
function exactText(ratio: Ratio): string | null {
  const places = placesOfRatio(ratio);
  if (places === null) return null;
  return textOfDecimal({ coefficient: ratioAtPlaces(ratio, places, 'down'), places });
}

/**
 * A mass converted from one unit to another with exact factors and rounded once by a named rule.
 *
 * Formula: mass × factor of the unit / factor of the unit wanted, a ratio of whole numbers; see
 * `tensOfNanogramsByUnit`.
 *
 * @param mass number or decimal text, taken exactly as written
 * @param units unit of the mass and unit wanted
 * @param rounding decimal places from 0 and named rule
 * @returns decimal text with exactly that many places
 * @throws DomainError when the mass is not decimal or places is not a whole number from 0 to 1000
 * Validity: exact but for the one named rounding.
 * Source: International yard and pound agreement (1959); NIST SP 811 (2008), Appendix B.8
 * @example convertedMass('12.45678', { from: 'kilogram', to: 'troy ounce' },
 *   { decimalPlaces: 3, roundingRule: 'half-even' }) // '400.495'
 */
export function convertedMass(
  mass: number | string,
  units: { readonly from: MassUnit; readonly to: MassUnit },
  rounding: { readonly decimalPlaces: number; readonly roundingRule: RoundingRule },
): string {
  const { decimalPlaces, roundingRule } = rounding;
  requireDomain(Number.isInteger(decimalPlaces) && decimalPlaces >= 0 && decimalPlaces <= 1000, {
    field: 'decimalPlaces',
    value: decimalPlaces,
    accepted: 'a whole number from 0 to 1000',
  });
  const ratio = ratioInUnit(exactDecimal(mass, 'mass'), units.from, units.to);
  const coefficient = ratioAtPlaces(ratio, decimalPlaces, roundingRule);
  return textOfDecimal({ coefficient, places: decimalPlaces });
}

/**
 * A mass in every unit of the trade, exactly and rounded once by a named rule, with the gross
 * weights that a bar of this mass would be stated to have in the London market.
 *
 * Formula: mass × factor of its unit / factor of each unit, a ratio of whole numbers; see
 * `tensOfNanogramsByUnit`. Stated weights as `statedTroyOunces`, from the exact ratio.
 *
 * @param input mass as number or decimal text, its unit, decimal places from 0 to 15, rounding rule
 * @returns for each unit the rounded text, the exact text (null where the decimal never ends) and
 *   the ratio in lowest terms; stated weights, null for a negative mass
 * @throws DomainError when the mass is not decimal
 * Validity: exact but for the one named rounding. See reference/mass-units.
 * Source: International yard and pound agreement (1959); NIST SP 811 (2008), Appendix B.8; LBMA
 * Good Delivery Rules, specification and Annex B
 * @example convertMass({ mass: '10', unit: 'tola', decimalPlaces: 4, roundingRule: 'half-even' })
 *   .conversions.find((one) => one.unit === 'troy ounce').exact // '3.75'
 */
export function convertMass(input: ConvertMassInput): ConvertMassOutput {
  const { unit, decimalPlaces, roundingRule } = input;
  const mass = exactDecimal(input.mass, 'mass');
  const conversions = massUnits.map((wanted) => {
    const ratio = ratioInUnit(mass, unit, wanted);
    const coefficient = ratioAtPlaces(ratio, decimalPlaces, roundingRule);
    return {
      unit: wanted,
      rounded: textOfDecimal({ coefficient, places: decimalPlaces }),
      exact: exactText(ratio),
      numerator: ratio.numerator.toString(),
      denominator: ratio.denominator.toString(),
    };
  });
  const ounces = ratioInUnit(mass, unit, 'troy ounce');
  const stated = (rule: Parameters<typeof statedWeightOfFraction>[1]) =>
    mass.coefficient < 0n
      ? null
      : textOfDecimal(
          statedWeightOfFraction({ dividend: ounces.numerator, divisor: ounces.denominator }, rule),
        );
  const figure = (wanted: MassUnit) =>
    `${conversions.find((one) => one.unit === wanted)?.rounded} ${symbolByUnit[wanted]}`;
  return {
    conversions,
    goldBarTroyOunces: stated(goodDeliverySteps.gold),
    goldBarTurnOfScaleTroyOunces: stated(goodDeliverySteps.goldWithTurnOfScale),
    silverBarTroyOunces: stated(goodDeliverySteps.silver),
    words: `${input.mass} ${symbolByUnit[unit]} is ${figure('gram')}, that is ${figure('troy ounce')}, rounded by the rule ${roundingRule}.`,
  };
}

export const convertMassCalculation = defineCalculation<ConvertMassInput, ConvertMassOutput>({
  id: 'convert-mass',
  version: 1,
  topic: 'mass',
  title: 'Units of mass',
  purpose:
    'Turns a mass into grams, troy ounces, pennyweights, grains, tolas and carats with exact factors, rounded once by a named rule, and gives the gross weight that a bar would be stated to have.',
  source:
    'International yard and pound agreement (1959); NIST SP 811 (2008), Appendix B.8; LBMA Good Delivery Rules, specification, Annex B and Annex C (1 ozt = 31.1034768 g)',
  input: convertMassInput,
  output: convertMassOutput,
  // A gold bar weighed in kilograms, see reference/mass-units: 400.495 ozt, stated 400.475 ozt.
  example: {
    mass: '12.45678',
    unit: 'kilogram',
    decimalPlaces: 3,
    roundingRule: 'half-even',
  },
  compute: convertMass,
});
