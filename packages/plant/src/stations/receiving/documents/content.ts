import { plainDecimal } from '../../../tables/number-form.ts';

/** The units in which certificates state contents, each with its power of ten to mg/kg. */
const powers = { '%': 4, '‰': 3, ppm: 0, 'mg/kg': 0 } as const;

export const contentUnits = ['ppm', 'mg/kg', '%', '‰'] as const;
export type ContentUnit = (typeof contentUnits)[number];

/** A content as a certificate states it. */
export interface StatedContent {
  readonly element: string;
  readonly content: number;
  /** True where the certificate states no more than that it is below. */
  readonly isBelow: boolean;
}

/** A content in mg/kg: the point is moved in its digits, so that nothing is lost. */
export function milligramsPerKilogram(content: number, unit: ContentUnit): number {
  return Number(`${plainDecimal(content)}e${powers[unit]}`);
}

const item = /([A-Za-z]{1,3})\s*[:=]?\s*(<|≤|below)?\s*(\d+(?:[.,]\d+)?)/gi;

/** What stands in the field of a composition: its contents, and what of the text is none. */
export interface CompositionRead {
  readonly contents: readonly StatedContent[];
  readonly notRead: string;
}

const symbol = (text: string): string =>
  `${text.slice(0, 1).toUpperCase()}${text.slice(1).toLowerCase()}`;

/** Reads a composition as people type it: `Ag 12; Cu 5,5; Fe <2`. */
export function readComposition(text: string): CompositionRead {
  const contents: StatedContent[] = [];
  const rest = text.replace(item, (_whole, element: string, below, digits: string) => {
    contents.push({
      element: symbol(element),
      content: Number(digits.replace(',', '.')),
      isBelow: below !== undefined,
    });
    return ' ';
  });
  return { contents, notRead: rest.replace(/[\s;,]+/g, ' ').trim() };
}
