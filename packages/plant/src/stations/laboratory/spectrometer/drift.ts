import { keptContent } from './content-unit.ts';
import type { Drift, ReadTable, ResultMethod } from './result-bodies.ts';

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** A reading of the drift standard: its place in the table, counted from 1, and its figure. */
interface DriftRow {
  readonly order: number;
  readonly figure: number;
}

/** The readings of the drift standard, those between the same samples together. */
export function driftGroups(
  table: ReadTable,
  figureOf: (content: string) => number | null,
  at: number,
): readonly (readonly DriftRow[])[] {
  const groups: DriftRow[][] = [];
  let isOpen = false;
  for (const [index, row] of table.rows.entries()) {
    if (row.role === 'sample') isOpen = false;
    if (row.role !== 'drift') continue;
    const figure = figureOf(row.contents[at] ?? '');
    if (figure === null) continue;
    if (!isOpen) groups.push([]);
    isOpen = true;
    groups.at(-1)?.push({ order: index + 1, figure });
  }
  return groups;
}

/** The greatest step from one mean to the next, in percent of the former, against its limit. */
export function driftOf(
  element: string,
  means: readonly number[],
  { driftLimitPercent }: ResultMethod,
): Drift {
  const changes = means.slice(1).flatMap((mean, index) => {
    const before = means[index] ?? 0;
    return before > 0 ? [(100 * (mean - before)) / before] : [];
  });
  const greatest = changes.reduce<number | null>(
    (most, one) => (most === null || Math.abs(one) > Math.abs(most) ? one : most),
    null,
  );
  return {
    element,
    meansMilligramsPerKilogram: [...means],
    greatestChangePercent: greatest,
    isWithinLimit: greatest === null ? null : Math.abs(greatest) <= driftLimitPercent,
  };
}

/**
 * How far the drift standard moved, element by element: the mean before samples against the mean
 * after them, in percent of the former; the greatest step where there are several. Nothing can be
 * said of an element whose drift standard was read on one side of the samples only.
 */
export function driftsOf(table: ReadTable, method: ResultMethod): readonly Drift[] {
  if (!table.rows.some(({ role }) => role === 'drift')) return [];
  return table.elements.flatMap(({ element, unit }, at) => {
    const found = (content: string) => keptContent(content, unit)?.found ?? null;
    const means = driftGroups(table, found, at).map((group) =>
      meanOf(group.map(({ figure }) => figure)),
    );
    return means.length === 0 ? [] : [driftOf(element, means, method)];
  });
}
