import { keptContent } from './content-unit.ts';
import type { ReadTable } from './result-bodies.ts';

/** What was found in the reagent blanks of a file: the mean of each element that has a figure. */
export function blanksOf(table: ReadTable) {
  const rows = table.rows.filter(({ role }) => role === 'blank');
  const [first] = rows;
  if (!first) return [];
  const label = first.label.replace(/[^A-Za-z0-9._/-]/g, '-');
  return table.elements.flatMap(({ element, unit }, at) => {
    const found = rows.flatMap(({ contents }) => {
      const kept = keptContent(contents[at] ?? '', unit);
      return kept && kept.found !== null ? [kept.found] : [];
    });
    if (found.length === 0) return [];
    const value = found.reduce((sum, one) => sum + one, 0) / found.length;
    return [{ label, quantity: element, unit: 'mg/kg', value }];
  });
}
