import { places, placeTitle } from '../../journal/place.ts';
import type { Json, JsonObject } from '../../ports/json.ts';
import { inWords, printMicrograms, printNumber } from '../number-text.ts';

/** A unit that names of entries end in, as people write it and the number of it that they read. */
interface SaidUnit {
  readonly words: RegExp;
  readonly unit: string;
  readonly per?: number;
}

/** The longer word stands before those that it ends in. */
const units: readonly SaidUnit[] = [
  { words: /MilligramsPerKilogram$/, unit: 'mg/kg' },
  { words: /(?<=fineness\w*)PartsPerMillion$/i, unit: '‰', per: 1000 },
  { words: /PerMille$/, unit: '‰' },
  { words: /Percent$/, unit: '%' },
  { words: /Milligrams$/, unit: 'mg' },
  { words: /Grams$/, unit: 'g' },
  { words: /Millimetres$/, unit: 'mm' },
];

/** Micrograms are whole numbers for sums; nobody reads them so. Their word may stand inside a name. */
const mass = /Micrograms(?=[A-Z]|$)/;

const microgramsPerGram = 1_000_000;

/** A column or a single value of an entry as people read it. */
export interface SaidForm {
  /** The name in words, without its unit. */
  readonly title: string;
  readonly unit?: string;
  /** A number as it is read in that unit. */
  readonly print: (value: number) => string;
}

function massForm(name: string, values: readonly number[]): SaidForm {
  const most = Math.max(0, ...values.map(Math.abs));
  // Samples of an assay are read in milligrams, everything heavier in grams.
  const unit = most === 0 || most >= microgramsPerGram ? 'g' : 'mg';
  return {
    title: inWords(name.replace(mass, '')),
    unit,
    print: (value) => printMicrograms(value, unit, 3),
  };
}

/** How the values under one name of an entry are read, in one unit for all of them. */
export function saidForm(name: string, values: readonly number[]): SaidForm {
  if (mass.test(name) && values.every(Number.isSafeInteger)) return massForm(name, values);
  const found = units.find(({ words }) => words.test(name));
  if (!found) return { title: inWords(name), print: (value) => printNumber(value) };
  const { words, unit, per = 1 } = found;
  return {
    title: inWords(name.replace(words, '')),
    unit,
    print: (value) => printNumber(value / per),
  };
}

/** How the parts of one record are read: its masses in one unit, so that they can be compared. */
export function saidForms(record: JsonObject): (name: string) => SaidForm {
  const masses = Object.entries(record).filter(([name]) => mass.test(name));
  const weights = numbersAmong(masses.map(([, value]) => value));
  return (name) => saidForm(name, mass.test(name) ? weights : numbersAmong([record[name]]));
}

const peopleIn = /^(person|author|witness|leaving|arriving)$|(Author|Witness|Person)s?$/;
const placesIn = /^(place|places|from|to)$|Places?$/;

/** A text of an entry as people read it: places by their signs, people by their full names. */
export function saidText(name: string, text: string, nameOf: (person: string) => string): string {
  if (peopleIn.test(name)) return nameOf(text);
  return placesIn.test(name) && (places as readonly string[]).includes(text)
    ? placeTitle(text)
    : text;
}

/** The numbers among values. */
export const numbersAmong = (values: readonly (Json | undefined)[]): readonly number[] =>
  values.filter((value) => typeof value === 'number');
