import { type Decimal, decimalOfNumber, decimalOfText, textOfDecimal } from './decimal.ts';
import { DomainError, requireDomain } from './domain.ts';

/**
 * The rounding rules by name. The direction in a name is that of the number line, for negative
 * values too: 'down' towards the lower number, 'up' towards the higher one. 'half-even' and
 * 'half-up' take the nearest; a value midway between two goes to the even last digit, or to the
 * higher number.
 */
export const roundingRules = ['half-even', 'half-up', 'down', 'up'] as const;

export type RoundingRule = (typeof roundingRules)[number];

/** Whether the quotient that was cut towards the lower number is to be raised by one. */
function isRaised(floor: bigint, remainder: bigint, divisor: bigint, rule: RoundingRule): boolean {
  const twice = 2n * remainder;
  switch (rule) {
    case 'down':
      return false;
    case 'up':
      return remainder > 0n;
    case 'half-up':
      return twice >= divisor;
    case 'half-even':
      return twice > divisor || (twice === divisor && floor % 2n !== 0n);
    default:
      throw new DomainError({ field: 'rule', value: rule, accepted: roundingRules.join(', ') });
  }
}

/**
 * Quotient of two whole numbers, rounded once to a whole number by a named rule. It is the one
 * place where a mass is rounded.
 *
 * Formula: dividend / divisor, cut to the next lower whole number, raised by one where the rule
 * says so from the exact remainder.
 *
 * @param dividend any whole number
 * @param divisor above 0, in the same unit
 * @param rule see `roundingRules`
 * @returns the rounded quotient, exact
 * @throws DomainError when the divisor is not above 0 or the rule is none of the four
 * Validity: exact for whole numbers of any size.
 * Source: IEEE 754-2019, 4.3 (the four directions); ISO 80000-1:2009, Annex B (rule A is
 * 'half-even', rule B for positive numbers 'half-up')
 * @example divideRounded(5n, 2n, 'half-even') // 2n
 */
export function divideRounded(dividend: bigint, divisor: bigint, rule: RoundingRule): bigint {
  requireDomain(divisor > 0n, {
    field: 'divisor',
    value: divisor,
    accepted: 'a whole number above 0',
  });
  const cut = dividend / divisor;
  const floor = cut * divisor > dividend ? cut - 1n : cut;
  return isRaised(floor, dividend - floor * divisor, divisor, rule) ? floor + 1n : floor;
}

/**
 * A decimal rounded to a number of places by a named rule.
 *
 * @param decimal any decimal
 * @param places digits after the point, 0 or more
 * @param rule see `roundingRules`
 * @returns a decimal with exactly that many places
 * @throws DomainError when places is not a whole number from 0 to 1000 or the rule is unknown
 * @example roundDecimal({ coefficient: 3998905n, places: 4 }, 3, 'half-even') // { coefficient: 399890n, places: 3 }
 */
export function roundDecimal(decimal: Decimal, places: number, rule: RoundingRule): Decimal {
  requireDomain(Number.isInteger(places) && places >= 0 && places <= 1000, {
    field: 'places',
    value: places,
    accepted: 'a whole number from 0 to 1000',
  });
  const scaled = decimal.coefficient * 10n ** BigInt(places);
  const coefficient = divideRounded(scaled, 10n ** BigInt(decimal.places), rule);
  return { coefficient, places };
}

/**
 * Decimal text rounded to a number of places by a named rule; the text is never read as a binary
 * number.
 *
 * @param text decimal digits such as '399.8905'
 * @param places digits after the point, 0 to 1000
 * @param rule see `roundingRules`
 * @returns text with exactly that many places
 * @throws DomainError when the text is not decimal, places is out of range or the rule is unknown
 * Validity: exact. Source: as `divideRounded`.
 * @example roundDecimalText('399.8905', 3, 'half-even') // '399.890'
 */
export function roundDecimalText(text: string, places: number, rule: RoundingRule): string {
  return textOfDecimal(roundDecimal(decimalOfText(text), places, rule));
}

/**
 * A number printed with a number of places by a named rule, for words and labels. It is for
 * display only: nothing is compared with a printed figure.
 *
 * @param value any finite number
 * @param places digits after the point, 0 to 1000
 * @param rule see `roundingRules`
 * @returns text with exactly that many places
 * @throws DomainError when the value is not finite, places is out of range or the rule is unknown
 * Validity: exact for the shortest decimal that stands for the number. Source: as `divideRounded`.
 * @example roundNumberText(916.9498, 2, 'half-even') // '916.95'
 */
export function roundNumberText(value: number, places: number, rule: RoundingRule): string {
  return textOfDecimal(roundDecimal(decimalOfNumber(value), places, rule));
}
