/** How many decimals a number format shows: so many at least, and no more than so many. */
interface ShownDecimals {
  readonly least: number;
  readonly most: number;
}

/**
 * What a number format makes of a number: its decimals, its own digits ("as held", General), or something
 * that is no plain decimal number, such as a percentage, a power of ten, a fraction or a scale.
 */
export type FormatMeaning = ShownDecimals | 'as held' | 'other';

/** The built-in formats that show plain numbers, by id (ECMA-376, part 1, 18.8.30). */
const builtIn: Readonly<Record<number, string>> = {
  0: 'General',
  1: '0',
  2: '0.00',
  3: '#,##0',
  4: '#,##0.00',
  9: '0%',
  10: '0.00%',
  11: '0.00E+00',
  12: '# ?/?',
  13: '# ??/??',
  37: '#,##0 ;(#,##0)',
  38: '#,##0 ;[Red](#,##0)',
  39: '#,##0.00;(#,##0.00)',
  40: '#,##0.00;[Red](#,##0.00)',
  48: '##0.0E+0',
  49: '@',
};

/** The code of a built-in format; that of General for those whose code follows the country. */
export function builtInFormat(id: number): string {
  return builtIn[id] ?? 'General';
}

/** The code without what is only drawn beside the digits: text, colours, blanks, fillers. */
function bare(section: string): string {
  return section
    .replace(/"[^"]*"/g, '')
    .replace(/\\./gu, '')
    .replace(/[_*]./gu, '')
    .replace(/\[(?![<>=])[^\]]*\]/g, '')
    .trim();
}

/** The section of a code that speaks for numbers above zero: the first, unless conditions choose. */
const firstSection = (code: string): string =>
  code.match(/^(?:"[^"]*"|\\.|[^;"\\])*/u)?.[0] ?? code;

/** What a number format (ECMA-376, part 1, 18.8.31) shows of a number above zero. */
export function meaningOf(code: string): FormatMeaning {
  const section = bare(firstSection(code));
  if (/^(general|@)?$/i.test(section)) return 'as held';
  const parts = /^[^0#?.,]*((?:[0#?]|[, ](?=[0#?, ]*[0#?]))*)(?:\.([0#?]*))?[^0#?.,]*$/.exec(
    section,
  );
  if (!parts || /[%[/eEyYmMdDhHsS@]/.test(section)) return 'other';
  const [, whole = '', fraction = ''] = parts;
  if (whole === '' && fraction === '') return 'other';
  return { least: fraction.lastIndexOf('0') + 1, most: fraction.length };
}

/** The digits of a number as a cell shows them; those that it holds where its format leaves them be. */
export function shownDigits(held: string, { least, most }: ShownDecimals): string {
  const [whole = '0', fraction = ''] = held.split('.');
  if (fraction.length > most) return Number(held).toFixed(most);
  const padded = fraction.padEnd(least, '0');
  return padded === '' ? whole : `${whole}.${padded}`;
}
