import type { BoxRow, TubeRow, WeighingRow } from './books.ts';

interface DrawnCode {
  readonly inside: string;
  readonly side: number;
}

const fonts = "font-family='Atkinson Hyperlegible Next, sans-serif'";

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** A line of text at a place, in millimetres. */
function text(
  words: string,
  at: { x: number; y: number; size: number; bold?: boolean; end?: boolean },
): string {
  const weight = at.bold ? " font-weight='600'" : '';
  const anchor = at.end ? " text-anchor='end'" : '';
  return `<text x='${at.x}' y='${at.y}' font-size='${at.size}'${weight}${anchor}>${escaped(words)}</text>`;
}

/** Mean width of a letter over its height; wide enough that a line set by it does not run over. */
const letterWidth = 0.58;

/** The size at which a line fits its width: the wanted one, or smaller for a long id or title. */
function fittedSize(words: string, wanted: { size: number; width: number }): number {
  const fits = wanted.width / (Math.max(1, words.length) * letterWidth);
  return Math.min(wanted.size, Number(fits.toFixed(2)));
}

const hairline = (y: number, width: number): string =>
  `<line x1='4' x2='${width - 4}' y1='${y}' y2='${y}' stroke='#000' stroke-width='0.15'/>`;

function code(drawn: DrawnCode, at: { x: number; y: number; side: number }): string {
  const scale = at.side / drawn.side;
  return `<g transform='translate(${at.x} ${at.y}) scale(${scale})'>${drawn.inside}</g>`;
}

function sheet(size: { width: number; height: number }, parts: readonly string[]): string {
  const { width, height } = size;
  return `<svg xmlns='http://www.w3.org/2000/svg' width='${width}mm' height='${height}mm' viewBox='0 0 ${width} ${height}' ${fonts}><rect width='${width}' height='${height}' fill='#fff'/>${parts.join('')}</svg>`;
}

/** Thousands set apart by a thin space, as on screen. */
function grams(micrograms: number, decimals: number): string {
  const [whole = '0', fraction] = (micrograms / 1e6).toFixed(decimals).split('.');
  const spaced = whole.replace(/\B(?=(\d{3})+$)/g, '\u2009');
  return `${fraction === undefined ? spaced : `${spaced}.${fraction}`}\u2009g`;
}

/** Day and time where the plant stands, as `2026-11-24 14:05`. */
function localTime(instant: string, timeZone: string): string {
  const format = new Intl.DateTimeFormat('sv-SE', {
    timeZone,
    dateStyle: 'short',
    timeStyle: 'short',
  });
  return format.format(new Date(instant));
}

/** The receipt of a weighed tube, 80 mm wide. */
export function drawTubeReceipt(receipt: {
  plantTitle: string;
  timeZone: string;
  standardTitle: string;
  tube: TubeRow;
  weighing: WeighingRow;
  code: DrawnCode;
}): string {
  const { tube, weighing } = receipt;
  const rows: readonly (readonly [string, string])[] = [
    [
      'Gross',
      `${weighing.gross.text}\u2009${weighing.gross.unit}${weighing.gross.typed ? ' typed' : ''}`,
    ],
    [weighing.tare ? 'Tare' : 'Tare of the piece standard', grams(weighing.tareMicrograms, 3)],
    ['Net', grams(weighing.netMicrograms, 3)],
    ['Melt', tube.melt],
    ['Balance', weighing.instrument],
    ['By', weighing.author],
    ['When', localTime(weighing.instant, receipt.timeZone)],
    ['Entry', String(weighing.entry)],
  ];
  const width = 80;
  const height = 50 + rows.length * 6;
  const title = `Tube ${tube.tube}`;
  const besideCode = 48;
  return sheet({ width, height }, [
    text(receipt.plantTitle, { x: 4, y: 8, size: 3.4 }),
    text(title, {
      x: 4,
      y: 17,
      size: fittedSize(title, { size: 6.4, width: besideCode }),
      bold: true,
    }),
    text(receipt.standardTitle, {
      x: 4,
      y: 23,
      size: fittedSize(receipt.standardTitle, { size: 3.6, width: besideCode }),
    }),
    text(`${weighing.pieces} pieces`, { x: 4, y: 34, size: 8, bold: true }),
    text(weighing.state, { x: 4, y: 40, size: 4 }),
    code(receipt.code, { x: 54, y: 4, side: 22 }),
    hairline(44, width),
    ...rows.flatMap(([name, value], index) => [
      text(name, { x: 4, y: 50 + index * 6, size: 3.4 }),
      text(value, { x: 76, y: 50 + index * 6, size: 3.6, end: true }),
    ]),
  ]);
}

/** The label of a sealed box, 100 by 60 mm. */
export function drawBoxLabel(label: {
  plantTitle: string;
  timeZone: string;
  standardTitle: string;
  box: BoxRow;
  code: DrawnCode;
}): string {
  const { box } = label;
  const width = 100;
  const fineness = `${(box.finenessDeclaredPartsPerMillion / 1000).toString()}\u2009‰`;
  const title = `Box ${box.box}`;
  const besideCode = 60;
  const tubes = box.tubes.length === 1 ? 'in 1 tube' : `in ${box.tubes.length} tubes`;
  return sheet({ width, height: 60 }, [
    text(label.plantTitle, { x: 4, y: 8, size: 3.6 }),
    text(title, {
      x: 4,
      y: 19,
      size: fittedSize(title, { size: 8, width: besideCode }),
      bold: true,
    }),
    text(label.standardTitle, {
      x: 4,
      y: 26,
      size: fittedSize(label.standardTitle, { size: 4, width: besideCode }),
    }),
    text(`${box.pieces} pieces`, { x: 4, y: 38, size: 9, bold: true }),
    hairline(43, 66),
    text(`${box.metal}, fineness ${fineness}`, { x: 4, y: 48.5, size: 3.6 }),
    text(`net ${grams(box.netMicrograms, 2)} ${tubes}`, { x: 4, y: 53.5, size: 3.6 }),
    text(`seal ${box.seal}`, { x: 66, y: 48.5, size: 3.6 }),
    text(localTime(box.instant, label.timeZone), { x: 66, y: 53.5, size: 3.6 }),
    code(label.code, { x: 66, y: 6, side: 30 }),
  ]);
}
