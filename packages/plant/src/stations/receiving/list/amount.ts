/** The units in which lists state masses. */
export const listMassUnits = ['kg', 'g', 'ozt'] as const;
export type ListMassUnit = (typeof listMassUnits)[number];

/** How a list writes its numbers. */
export interface NumberForm {
  readonly decimalMark: 'point' | 'comma';
  readonly groupMark: 'none' | 'point' | 'comma' | 'blank' | 'apostrophe';
}

const marks = { point: '\\.', comma: ',' } as const;
const groups = { point: '\\.', comma: ',', blank: ' ', apostrophe: "['’]" } as const;

/** A double as plain digits with a decimal point: never with an exponent. */
export function plainDecimal(value: number): string {
  const text = String(value);
  const [, sign = '', whole = '', fraction = '', exponent] =
    /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(text) ?? [];
  if (exponent === undefined) return text;
  const shift = Number(exponent);
  const digits = whole + fraction;
  const point = whole.length + shift;
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return point >= digits.length
    ? `${sign}${digits.padEnd(point, '0')}`
    : `${sign}${digits.slice(0, point)}.${digits.slice(point)}`;
}

/**
 * The digits of a number with a decimal point; nothing when it is not written in that form. Groups
 * must be of three digits, so that a decimal mark is not taken for a group mark.
 */
export function digitsOf(text: string, form: NumberForm): string | undefined {
  const mark = marks[form.decimalMark];
  const isPlain = new RegExp(`^\\d+(${mark}\\d+)?$`).test(text);
  if (isPlain) return text.replace(',', '.');
  if (form.groupMark === 'none' || form.groupMark === form.decimalMark) return undefined;
  const group = groups[form.groupMark];
  if (!new RegExp(`^\\d{1,3}(${group}\\d{3})+(${mark}\\d+)?$`).test(text)) return undefined;
  return text.replace(new RegExp(group, 'g'), '').replace(',', '.');
}

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

/** Letters without their accents, in lower case. */
export function folded(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').replaceAll('ß', 'ss').toLowerCase();
}

/** The unit of mass that a text names; nothing when it names none. */
export function unitNamed(text: string): ListMassUnit | undefined {
  const plain = folded(text);
  return unitWords.find(([, words]) => words.test(plain))?.[0];
}

/** A cell taken apart: what is written as number, and the unit or sign that stands beside it. */
export function splitUnit(text: string): { readonly number: string; readonly unit: string } {
  const [, before = '', number = text, after = ''] =
    /^([^\d+-]*?)\s*([+-]?\d(?:.*\d)?)\s*([^\d]*)$/u.exec(text) ?? [];
  return { number, unit: tidyUnit(`${before} ${after}`) };
}

const tidyUnit = (text: string) => text.replace(/[[\]()]/g, ' ').trim();

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

/** A decimal number moved so far to the left of the point: percent to per mille is one place. */
export function movedPoint(digits: string, places: number): number {
  return Number(`${digits}e${places}`);
}
