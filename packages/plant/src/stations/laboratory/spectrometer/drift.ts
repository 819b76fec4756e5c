import { keptContent } from './content-unit.ts';
import type { Drift, ReadTable, ResultMethod } from './result-bodies.ts';

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** The found contents of one element in rows of one role, those that lie next to each other together. */
function driftGroups(table: ReadTable, at: number): readonly (readonly number[])[] {
  const unit = table.elements[at]?.unit ?? 'mg/kg';
  const groups: number[][] = [];
  let isOpen = false;
  for (const row of table.rows) {
    if (row.role === 'sample') isOpen = false;
    if (row.role !== 'drift') continue;
    const found = keptContent(row.contents[at] ?? '', unit)?.found ?? null;
    if (found === null) continue;
    if (!isOpen) groups.push([]);
    isOpen = true;
    groups.at(-1)?.push(found);
  }
  return groups;
}

/**
 * How far the drift standard moved, element by element: the mean before samples against the mean
 * after them, in percent of the former; the greatest step where there are several. Nothing can be
 * said of an element whose drift standard was read on one side of the samples only.
 */
export function driftsOf(table: ReadTable, method: ResultMethod): readonly Drift[] {
  if (!table.rows.some(({ role }) => role === 'drift')) return [];
  return table.elements.flatMap(({ element }, at) => {
    const means = driftGroups(table, at).map(meanOf);
    const changes = means.slice(1).flatMap((mean, index) => {
      const before = means[index] ?? 0;
      return before > 0 ? [(100 * (mean - before)) / before] : [];
    });
    const greatest = changes.reduce<number | null>(
      (most, one) => (most === null || Math.abs(one) > Math.abs(most) ? one : most),
      null,
    );
    const drift = {
      element,
      meansMilligramsPerKilogram: means,
      greatestChangePercent: greatest,
      isWithinLimit: greatest === null ? null : Math.abs(greatest) <= method.driftLimitPercent,
    };
    return means.length === 0 ? [] : [drift];
  });
}
