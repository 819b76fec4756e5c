import { printNumber } from '../../../../workbench/number-text.ts';

/** A number with its sign, so that missing and too much are told apart. */
export function plus(value: number, decimals: number): string {
  const text = printNumber(value, decimals);
  return value > 0 ? `+${text}` : text;
}

/**
 * Grams as typed, with a sign and at most six decimals, in whole micrograms; the text itself where it
 * is none, so that the plant refuses it by name.
 */
export function microgramsOf(typed: string): number | string {
  const text = typed.trim().replace('−', '-').replace(',', '.');
  const [, sign = '', whole = '', fraction = ''] =
    /^([+-]?)(\d+)(?:\.(\d{1,6}))?$/.exec(text) ?? [];
  if (whole === '') return typed;
  const micrograms = Number(`${whole}${fraction.padEnd(6, '0')}`);
  return sign === '-' && micrograms !== 0 ? -micrograms : micrograms;
}

/** Whole pieces as typed, with a sign; the text itself where it is none. */
export function piecesOf(typed: string): number | string {
  const text = typed.trim().replace('−', '-');
  return /^[+-]?\d+$/.test(text) ? Number(text) + 0 : typed;
}

/** Micrograms as grams for a field: no zeros at the end. */
export function gramsText(micrograms: number): string {
  const digits = String(Math.abs(micrograms)).padStart(7, '0');
  const text = `${digits.slice(0, -6)}.${digits.slice(-6)}`.replace(/\.?0+$/, '');
  return micrograms < 0 ? `-${text}` : text;
}
