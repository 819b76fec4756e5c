import type { Reading } from '../../src/journal/reading.ts';
import type { Chance } from '../chance.ts';

/** A balance as it really is: what it adds to a true mass before it shows a reading. */
export interface TrueBalance {
  readonly instrument: string;
  readonly divisionGrams: number;
  readonly repeatabilityGrams: number;
  /** True relative error of its span. */
  readonly gain: number;
}

const decimalsOf = (division: number): number => Math.max(0, Math.round(-Math.log10(division)));

/** A mass in grams as the balance shows it. */
export function weigh(balance: TrueBalance, trueGrams: number, chance: Chance): Reading {
  const shown = trueGrams * (1 + balance.gain) + chance.normal(0, balance.repeatabilityGrams);
  const steps = Math.round(shown / balance.divisionGrams);
  const text = (steps * balance.divisionGrams).toFixed(decimalsOf(balance.divisionGrams));
  return { text, unit: 'g', typed: false };
}

/** A mass in milligrams as an assay balance shows it. */
export function weighMilligrams(trueMilligrams: number, chance: Chance): Reading {
  const shown = trueMilligrams + chance.normal(0, 0.006);
  return { text: shown.toFixed(2), unit: 'mg', typed: false };
}

/** A length in millimetres as a micrometer shows it. */
export function measure(trueMillimetres: number, chance: Chance): Reading {
  const shown = trueMillimetres + chance.normal(0, 0.001);
  return { text: shown.toFixed(3), unit: 'mm', typed: false };
}
