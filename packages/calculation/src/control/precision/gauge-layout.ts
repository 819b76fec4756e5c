import { requireDomain } from '../../quantity/domain.ts';

/** One reading with the part and the operator behind it. */
export interface GaugeReading {
  readonly part: string;
  readonly operator: string;
  readonly value: number;
}

/** Readings of a balanced study: cells by operator, then by part, each with its repeats. */
export interface GaugeLayout {
  readonly operators: readonly string[];
  /** Parts in the order of their first reading; in a nested study those of the first operator. */
  readonly parts: readonly string[];
  readonly repeats: number;
  readonly cells: readonly (readonly (readonly number[])[])[];
}

function distinct(names: readonly string[]): string[] {
  return [...new Set(names)];
}

/** Repeats of every operator on every one of their parts, in the order of first readings. */
function cellsOf(
  readings: readonly GaugeReading[],
  operators: readonly string[],
  partsOf: (operator: string) => readonly string[],
): number[][][] {
  const byCell = new Map<string, number[]>();
  for (const { operator, part, value } of readings) {
    const key = JSON.stringify([operator, part]);
    const cell = byCell.get(key);
    if (cell) cell.push(value);
    else byCell.set(key, [value]);
  }
  return operators.map((operator) =>
    partsOf(operator).map((part) => byCell.get(JSON.stringify([operator, part])) ?? []),
  );
}

/**
 * Puts the readings of a gauge study in order and refuses a study that is not balanced.
 *
 * @param readings each with its part and operator, in any order
 * @param design crossed: the same parts for every operator; nested: parts of their own
 * @returns the layout
 * @throws DomainError unless there are 2 operators, 2 parts and 2 repeats at least, equally many
 * everywhere
 * Source: definition
 */
export function gaugeLayout(
  readings: readonly GaugeReading[],
  design: 'crossed' | 'nested',
): GaugeLayout {
  const operators = distinct(readings.map((reading) => reading.operator));
  const allParts = distinct(readings.map((reading) => reading.part));
  const ownParts = new Map<string, string[]>(operators.map((operator) => [operator, []]));
  const seen = new Set<string>();
  for (const { operator, part } of readings) {
    const key = JSON.stringify([operator, part]);
    if (!seen.has(key)) ownParts.get(operator)?.push(part);
    seen.add(key);
  }
  const partsOf = (operator: string): readonly string[] =>
    design === 'crossed' ? allParts : (ownParts.get(operator) ?? []);
  const parts = partsOf(operators[0] ?? '');
  const cells = cellsOf(readings, operators, partsOf);
  const repeats = cells[0]?.[0]?.length ?? 0;
  requireDomain(operators.length >= 2 && parts.length >= 2, {
    field: 'readings',
    value: `${operators.length} operators, ${parts.length} parts`,
    accepted: 'at least 2 operators and 2 parts',
  });
  const sizes = cells.flatMap((row) => row.map((cell) => cell.length));
  const isBalanced =
    cells.every((row) => row.length === parts.length) && sizes.every((size) => size === repeats);
  requireDomain(isBalanced && repeats >= 2, {
    field: 'readings',
    value: `${Math.min(...sizes)} to ${Math.max(...sizes)} readings per operator and part`,
    accepted:
      'the same number of readings, 2 or more, of every operator on every part; in a nested study as many parts for every operator',
  });
  return { operators, parts, repeats, cells };
}
