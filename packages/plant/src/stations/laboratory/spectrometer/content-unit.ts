import {
  digitsOf,
  movedPoint,
  type NumberForm,
  plainDecimal,
} from '../../../tables/number-form.ts';
import { type Cell, tidy } from '../../../tables/sheet.ts';

/** The units in which spectrometers state contents of metal. */
const contentUnits = ['mg/kg', 'ppm', 'µg/g', 'g/t', 'ppb', 'µg/kg', '%', '‰'] as const;
type ContentUnit = (typeof contentUnits)[number];

/** The unit of a signal; what a spectrometer calls its intensity is read in it too. */
const signalUnit = 'counts/s';

/** The units of the figures of a result file: a content, or the signal from which one is found. */
export const figureUnits = [...contentUnits, signalUnit] as const;
export type FigureUnit = (typeof figureUnits)[number];

export const isSignal = (unit: FigureUnit): unit is typeof signalUnit => unit === signalUnit;

/** How far the point moves to the right from that unit to mg/kg. */
const places: Readonly<Record<ContentUnit, number>> = {
  'mg/kg': 0,
  ppm: 0,
  'µg/g': 0,
  'g/t': 0,
  ppb: -3,
  'µg/kg': -3,
  '%': 4,
  '‰': 3,
};

const unitForms: readonly (readonly [FigureUnit, RegExp])[] = [
  [
    signalUnit,
    /(?<![\p{L}/])((counts?|cts|imp(ulse)?|pulses)( ?(\/ ?s|s-1|·s-1|per second))?|c ?\/ ?s|cps|(intensit|signal)\p{L}*)(?![\p{L}])/iu,
  ],
  ['µg/kg', /(?<![\p{L}/])[µμu]g ?(\/ ?kg|kg-1|·kg-1)(?![\p{L}])/iu],
  ['mg/kg', /(?<![\p{L}/])mg ?(\/ ?kg|kg-1|·kg-1)(?![\p{L}])/iu],
  ['µg/g', /(?<![\p{L}/])[µμu]g ?(\/ ?g|g-1|·g-1)(?![\p{L}])/iu],
  ['g/t', /(?<![\p{L}/])g ?\/ ?t(?![\p{L}])/iu],
  ['ppb', /(?<!\p{L})ppb(?!\p{L})/iu],
  ['ppm', /(?<!\p{L})ppm(?!\p{L})/iu],
  ['‰', /‰|(?<!\p{L})(per ?mill?e?|promille|permil)(?!\p{L})/iu],
  ['%', /%|(?<!\p{L})(per ?cent|percent|prozent|wt-?%|pct)(?!\p{L})/iu],
];

/** The unit of content or signal that a text names; nothing when it names none. */
export function figureUnitNamed(text: string): FigureUnit | undefined {
  return unitForms.find(([, form]) => form.test(text))?.[0];
}

/** A text without the unit in it and the brackets around it. */
export function withoutUnit(text: string): string {
  const unit = unitForms.find(([, form]) => form.test(text));
  const bare = unit ? text.replace(new RegExp(unit[1], 'giu'), ' ') : text;
  return tidy(bare.replace(/[[(]\s*(in)?\s*[\])]/gi, ' ').replace(/[,;:]\s*(in)?\s*$/i, ' '));
}

/** A content as a record keeps it: digits with a point, `<` before a limit, `<` alone, or nothing. */
export const contentForm = /^(?:|<|<?\d+(?:\.\d+)?|-\d+(?:\.\d+)?)$/;

/** Ways to say that an element was not found, without a limit. */
const notFound =
  /^(n\.? ?d\.?|n\.? ?n\.?|b\.?d\.?l\.?|< ?(lod|dl|mdl|ld|nwg|bg)|not (found|detected)|nicht gefunden)$/i;

function digitsIn(text: string, form: NumberForm): string | undefined {
  const powers = /^(\d)([.,]\d+)?e([+-]?\d{1,2})$/i.exec(text);
  if (!powers) return digitsOf(text, form);
  const mantissa = digitsOf(`${powers[1]}${powers[2] ?? ''}`, form);
  return mantissa === undefined ? undefined : plainDecimal(movedPoint(mantissa, Number(powers[3])));
}

const formWords = ({ decimalMark }: NumberForm) => `digits with a decimal ${decimalMark}`;

/** Whether figures in both units are the same digits. */
const isSameScale = (left: FigureUnit, right: FigureUnit): boolean =>
  isSignal(left) || isSignal(right) ? left === right : places[left] === places[right];

/** A cell as a figure in the unit of its column, or what would be accepted in its place. */
export function contentIn(
  cell: Cell,
  by: { readonly form: NumberForm; readonly unit: FigureUnit },
): { readonly content: string } | { readonly accepted: string } {
  const accepted = isSignal(by.unit)
    ? `a signal in ${by.unit}, ${formWords(by.form)}`
    : `a content in ${by.unit}, ${formWords(by.form)}; < before a detection limit`;
  if (cell.kind === 'day') return { accepted: `${accepted}; the sheet holds a day here` };
  if (cell.kind === 'number') return { content: cell.text };
  const text = tidy(cell.text.replaceAll('−', '-').replace(/^'/, ''));
  if (isSignal(by.unit) && (notFound.test(text) || text.startsWith('<'))) return { accepted };
  if (notFound.test(text)) return { content: '<' };
  const named = figureUnitNamed(text);
  if (named !== undefined && !isSameScale(named, by.unit)) {
    return { accepted: `${accepted}, as the rest of its column` };
  }
  const [, sign = '', number = ''] = /^([<-]?) ?(.*)$/.exec(named ? withoutUnit(text) : text) ?? [];
  if (number === '') return sign === '' ? { content: '' } : { accepted };
  const digits = digitsIn(number, by.form);
  return digits === undefined ? { accepted } : { content: sign + digits };
}

/** A content that a record keeps, in mg/kg. */
export interface KeptContent {
  /** Null for an element that was not found. */
  readonly found: number | null;
  /** The limit that stands in place of a content; null where none does. */
  readonly below: number | null;
}

/** What a kept content says in mg/kg; nothing where nothing was measured, or a signal was. */
export function keptContent(content: string, unit: FigureUnit): KeptContent | undefined {
  if (content === '' || isSignal(unit)) return undefined;
  if (content === '<') return { found: null, below: null };
  const isBelow = content.startsWith('<');
  const value = movedPoint(isBelow ? content.slice(1) : content, places[unit]);
  return isBelow ? { found: null, below: value } : { found: value, below: null };
}
