import { DomainError, requireDomain } from './domain.ts';

/** A finite decimal number held exactly: coefficient × 10^(−places). */
export interface Decimal {
  readonly coefficient: bigint;
  readonly places: number;
}

const decimalPattern = /^-?\d+(\.\d+)?$/;
const numberPattern = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/;

/** The whole number as a decimal. */
export function decimalOfInteger(coefficient: bigint): Decimal {
  return { coefficient, places: 0 };
}

/**
 * Reads decimal text exactly, as a balance or a list prints it: an optional minus, digits, and at
 * most one point with digits after it. No exponent, no grouping, no plus sign, no blanks.
 *
 * @param text such as '401.127' or '-0.05'
 * @param field name of the field, for the refusal
 * @throws DomainError when the text is anything else
 * @example decimalOfText('-0.05') // { coefficient: -5n, places: 2 }
 */
export function decimalOfText(text: string, field = 'text'): Decimal {
  if (!decimalPattern.test(text)) {
    throw new DomainError({ field, value: text, accepted: 'decimal digits such as 401.127' });
  }
  const [whole = '', fraction = ''] = text.split('.');
  return { coefficient: BigInt(whole + fraction), places: fraction.length };
}

/**
 * The decimal number that a double prints as: the shortest text that reads back as the same
 * double. A reading typed as 916.9 is thereby compared as 916.9 and not as the binary fraction
 * next to it, so that a value exactly on a limit is on the limit.
 *
 * @param value any finite number
 * @param field name of the field, for the refusal
 * @throws DomainError for a number that is not finite
 * @example decimalOfNumber(916.9) // { coefficient: 9169n, places: 1 }
 */
export function decimalOfNumber(value: number, field = 'value'): Decimal {
  requireDomain(Number.isFinite(value), { field, value, accepted: 'a finite number' });
  const parts = numberPattern.exec(String(value));
  if (!parts) throw new DomainError({ field, value, accepted: 'a finite number' });
  const [, sign = '', whole = '', fraction = '', exponent = '0'] = parts;
  const coefficient = BigInt(`${sign}${whole}${fraction}`);
  const places = fraction.length - Number(exponent);
  return places >= 0
    ? { coefficient, places }
    : { coefficient: coefficient * 10n ** BigInt(-places), places: 0 };
}

/** The coefficient of a decimal when it is written with more places. */
function coefficientAt(decimal: Decimal, places: number): bigint {
  return decimal.coefficient * 10n ** BigInt(places - decimal.places);
}

/** Sum of decimals, exact; zero for none. */
export function sumDecimals(decimals: readonly Decimal[]): Decimal {
  const places = Math.max(0, ...decimals.map((decimal) => decimal.places));
  let coefficient = 0n;
  for (const decimal of decimals) coefficient += coefficientAt(decimal, places);
  return { coefficient, places };
}

/** Exact difference of two decimals, minuend first. */
export function subtractDecimals(minuend: Decimal, subtrahend: Decimal): Decimal {
  return sumDecimals([
    minuend,
    { coefficient: -subtrahend.coefficient, places: subtrahend.places },
  ]);
}

/** Product of decimals, exact; one for none. */
export function multiplyDecimals(decimals: readonly Decimal[]): Decimal {
  return decimals.reduce(
    (product, factor) => ({
      coefficient: product.coefficient * factor.coefficient,
      places: product.places + factor.places,
    }),
    { coefficient: 1n, places: 0 },
  );
}

/** Below 0, 0 or above 0 as the first decimal is below, equal to or above the second. */
export function compareDecimals(first: Decimal, second: Decimal): -1 | 0 | 1 {
  const { coefficient } = subtractDecimals(first, second);
  if (coefficient === 0n) return 0;
  return coefficient < 0n ? -1 : 1;
}

/** The largest of at least one decimal. */
export function largestDecimal(decimals: readonly [Decimal, ...Decimal[]]): Decimal {
  return decimals.reduce((most, next) => (compareDecimals(next, most) > 0 ? next : most));
}

/** The smallest of at least one decimal. */
export function smallestDecimal(decimals: readonly [Decimal, ...Decimal[]]): Decimal {
  return decimals.reduce((least, next) => (compareDecimals(next, least) < 0 ? next : least));
}

/** The double nearest to a decimal. */
export function numberOfDecimal(decimal: Decimal): number {
  return Number(textOfDecimal(decimal));
}

/**
 * Writes a decimal with all its places, trailing zeros included.
 *
 * @example textOfDecimal({ coefficient: 401100n, places: 3 }) // '401.100'
 */
export function textOfDecimal(decimal: Decimal): string {
  const { coefficient, places } = decimal;
  const sign = coefficient < 0n ? '-' : '';
  const digits = (coefficient < 0n ? -coefficient : coefficient)
    .toString()
    .padStart(places + 1, '0');
  if (places === 0) return `${sign}${digits}`;
  return `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

/** Writes a decimal without trailing zeros after the point. */
export function shortTextOfDecimal(decimal: Decimal): string {
  const text = textOfDecimal(decimal);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
