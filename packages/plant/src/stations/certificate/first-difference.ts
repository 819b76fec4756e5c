import type { Json } from '../../ports/json.ts';

/** The first field at which two values differ, with both sides; nothing when they are equal. */
export interface Difference {
  /** Path of the field, joined by dots: `boxes.0.pieces`. */
  readonly field: string;
  readonly left: Json | undefined;
  readonly right: Json | undefined;
}

/** How close two numbers have to be to count as the same. */
export type SameNumber = (left: number, right: number) => boolean;

const exactly: SameNumber = (left, right) => left === right || (left === 0 && right === 0);

const isObject = (value: unknown): value is { readonly [field: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Compares two JSON values field by field, in the order of the left one's fields. */
export function firstDifference(
  left: Json | undefined,
  right: Json | undefined,
  options: { readonly sameNumber?: SameNumber; readonly field?: string } = {},
): Difference | undefined {
  const { sameNumber = exactly, field = '' } = options;
  const below = (key: string) => (field === '' ? key : `${field}.${key}`);
  if (typeof left === 'number' && typeof right === 'number') {
    return sameNumber(left, right) ? undefined : { field, left, right };
  }
  const lists = Array.isArray(left) && Array.isArray(right);
  if (!lists && !(isObject(left) && isObject(right))) {
    return left === right ? undefined : { field, left, right };
  }
  const sides = [left, right] as unknown as readonly Record<string, Json>[];
  const keys = new Set(sides.flatMap((side) => Object.keys(side)));
  for (const key of keys) {
    const found = firstDifference(sides[0]?.[key], sides[1]?.[key], {
      sameNumber,
      field: below(key),
    });
    if (found) return found;
  }
  return undefined;
}

function textOf(value: Json | undefined): string {
  if (value === undefined) return 'nothing';
  return typeof value === 'string' ? value : JSON.stringify(value);
}

const shortened = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text);

/** Which digit or character of two texts differs first, counted from 1. */
function placeOfDifference(left: string, right: string): string {
  const index = [...left].findIndex((character, at) => character !== [...right][at]);
  const at = index < 0 ? left.length : index;
  const [one = 'nothing', other = 'nothing'] = [[...left][at], [...right][at]];
  const isDigit = /^\d$/.test(one) || /^\d$/.test(other);
  const place = isDigit ? left.slice(0, at).replace(/\D/g, '').length + 1 : at + 1;
  return `${isDigit ? 'digit' : 'character'} ${place}: ${one} instead of ${other}`;
}

/** Says a difference in words: the field, both values and the first digit that differs. */
export function differenceWords(
  difference: Difference,
  names: { readonly left: string; readonly right: string },
): string {
  const left = textOf(difference.left);
  const right = textOf(difference.right);
  const field = difference.field === '' ? 'the whole' : difference.field;
  const simple =
    difference.left !== undefined &&
    difference.right !== undefined &&
    typeof difference.left !== 'object' &&
    typeof difference.right !== 'object';
  const place = simple ? ` (${placeOfDifference(left, right)})` : '';
  return `${field}: ${names.left} says ${shortened(left)}, ${names.right} says ${shortened(right)}${place}`;
}
