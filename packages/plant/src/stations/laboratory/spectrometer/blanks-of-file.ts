import type { ContentsFromSignalsOutput } from '@cupel/calculation';
import { isSignal, keptContent } from './content-unit.ts';
import type { CalibrationShown, ReadTable } from './result-bodies.ts';

function meanContent(table: ReadTable, at: number): number | null {
  const unit = table.elements[at]?.unit ?? 'mg/kg';
  const found = table.rows.flatMap(({ role, contents }) => {
    const kept = role === 'blank' ? keptContent(contents[at] ?? '', unit) : undefined;
    return kept && kept.found !== null ? [kept.found] : [];
  });
  return found.length === 0 ? null : found.reduce((sum, one) => sum + one, 0) / found.length;
}

/** What was found in the reagent blanks of a file: the mean of each element that has a figure. */
export function blanksOf(table: ReadTable, calibrations: readonly CalibrationShown[]) {
  const first = table.rows.find(({ role }) => role === 'blank');
  if (!first) return [];
  const label = first.label.replace(/[^A-Za-z0-9._/-]/g, '-');
  return table.elements.flatMap(({ element, unit }, at) => {
    const signals = calibrations.find((one) => one.element === element)?.signals?.output;
    const value = isSignal(unit)
      ? ((signals as ContentsFromSignalsOutput | undefined)?.blankMilligramsPerKilogram ?? null)
      : meanContent(table, at);
    return value === null ? [] : [{ label, quantity: element, unit: 'mg/kg', value }];
  });
}
