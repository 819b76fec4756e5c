/** How a table writes its numbers. */
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

/** Letters without their accents, in lower case. */
export function folded(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').replaceAll('ß', 'ss').toLowerCase();
}

/** A cell taken apart: what is written as number, and the unit or sign that stands beside it. */
export function splitUnit(text: string): { readonly number: string; readonly unit: string } {
  const [, before = '', number = text, after = ''] =
    /^([^\d+-]*?)\s*([+-]?\d(?:.*\d)?)\s*([^\d]*)$/u.exec(text) ?? [];
  return { number, unit: tidyUnit(`${before} ${after}`) };
}

const tidyUnit = (text: string) => text.replace(/[[\]()]/g, ' ').trim();

/** A decimal number moved so far to the left of the point: percent to per mille is one place. */
export function movedPoint(digits: string, places: number): number {
  return Number(`${digits}e${places}`);
}

/** How the numbers in those cells are written, and whether they could be written in another way too. */
export function proposedForm(texts: readonly string[]): {
  readonly form: NumberForm;
  readonly isDoubtful: boolean;
} {
  const numbers = texts.map((text) => splitUnit(text).number).filter((text) => /\d/.test(text));
  const some = (pattern: RegExp) => numbers.some((text) => pattern.test(text));
  const groupMark = some(/^\d{1,3}( \d{3})+([.,]|$)/)
    ? 'blank'
    : some(/^\d{1,3}(['’]\d{3})+/)
      ? 'apostrophe'
      : 'none';
  if (some(/\..*,\d+$/) || some(/^\d+\.\d{3}\.\d{3}/)) return sure('comma', 'point');
  if (some(/,.*\.\d+$/) || some(/^\d+,\d{3},\d{3}/)) return sure('point', 'comma');
  // A mark that stands before other than three digits is a decimal mark; then the other groups.
  const hasComma = some(/^[\d '’]+,(\d{1,2}|\d{4,})$/);
  const hasPoint = some(/^[\d '’]+\.(\d{1,2}|\d{4,})$/);
  const threeAfter = (mark: string) => some(new RegExp(`^[1-9]\\d{0,2}\\${mark}\\d{3}$`));
  if (hasComma && !hasPoint) return sure('comma', threeAfter('.') ? 'point' : groupMark);
  if (hasPoint && !hasComma) return sure('point', threeAfter(',') ? 'comma' : groupMark);
  if (some(/,\d{3}$/)) return { form: { decimalMark: 'comma', groupMark }, isDoubtful: true };
  const isDoubtful = some(/\.\d{3}$/) && !some(/^0\.\d{3}$/);
  return { form: { decimalMark: 'point', groupMark }, isDoubtful };
}

function sure(decimalMark: NumberForm['decimalMark'], groupMark: NumberForm['groupMark']) {
  return { form: { decimalMark, groupMark }, isDoubtful: false };
}
