import { folded } from '../../../tables/number-form.ts';

/** The units in which lists state masses. */
export const listMassUnits = ['kg', 'g', 'ozt'] as const;
export type ListMassUnit = (typeof listMassUnits)[number];

/** Words for units as cells and headers have them, each beside the unit it names. */
const unitWords: readonly (readonly [ListMassUnit, RegExp])[] = [
  [
    'ozt',
    /(^|[^a-z])(ozt|oz\.? ?tr?\.?|oz|troy|troy ?(oz|ounces?)|unzen?|onces?|once|onzas?|oncas?)([^a-z]|$)/,
  ],
  [
    'kg',
    /(^|[^a-z])(kg|kgs|kilos?|kilogram\w*|kilogramm\w*|chilogramm\w*|quilograma\w*)([^a-z]|$)/,
  ],
  ['g', /(^|[^a-z])(g|gr|grs|gms?|grams?|gramm|grammes?|grammi|gramos|gramas)([^a-z]|$)/],
];

/** The unit of mass that a text names; nothing when it names none. */
export function unitNamed(text: string): ListMassUnit | undefined {
  const plain = folded(text);
  return unitWords.find(([, words]) => words.test(plain))?.[0];
}

/** Trillionths of a gram in one unit: so fine that a troy ounce of 31.1034768 g is whole. */
const picogramsOf: Readonly<Record<ListMassUnit, bigint>> = {
  kg: 1_000_000_000_000_000n,
  g: 1_000_000_000_000n,
  ozt: 31_103_476_800_000n,
};

const picogramsPerMicrogram = 1_000_000n;

/** A number of plain digits as a whole number and how many of its digits stand after the point. */
function scaled(digits: string): { readonly whole: bigint; readonly decimals: number } {
  const [before = '0', after = ''] = digits.split('.');
  return { whole: BigInt(before + after), decimals: after.length };
}

/** The mass of plain digits in trillionths of a gram, exact as far as these reach. */
export function picograms(digits: string, unit: ListMassUnit): bigint {
  const { whole, decimals } = scaled(digits);
  return roundedQuotient(whole * picogramsOf[unit], 10n ** BigInt(decimals));
}

/** Rounds half to even, as fine mass is rounded. */
function roundedQuotient(dividend: bigint, divisor: bigint): bigint {
  const quotient = dividend / divisor;
  const twice = (dividend % divisor) * 2n;
  const isUp = twice > divisor || (twice === divisor && quotient % 2n === 1n);
  return isUp ? quotient + 1n : quotient;
}

/** A mass as grams with a decimal point, rounded half to even to whole micrograms. */
export function gramsText(mass: bigint): string {
  const micrograms = roundedQuotient(mass, picogramsPerMicrogram);
  const digits = String(micrograms).padStart(7, '0');
  return `${digits.slice(0, -6)}.${digits.slice(-6)}`.replace(/\.?0+$/, '');
}
