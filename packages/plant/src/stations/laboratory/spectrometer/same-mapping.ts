import type { JsonObject } from '../../../ports/json.ts';

/** A value as text in which the order of fields does not show. */
function ordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(ordered);
  if (typeof value !== 'object' || value === null) return value;
  const fields = Object.entries(value as JsonObject).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(fields.map(([name, one]) => [name, ordered(one)]));
}

/** The same mapping and method, whatever the order of their fields. */
export function isSame(left: unknown, right: unknown): boolean {
  return JSON.stringify(ordered(left)) === JSON.stringify(ordered(right));
}
