import type { ToleranceLimits } from './capability-indices.ts';
import type { CapabilityInput } from './capability-schema.ts';

/** Data that are readings, not their summary. */
type Readings = Extract<CapabilityInput['data'], { kind: 'subgroups' | 'individuals' }>;

/** All readings in the order of time. */
export function readingsOf(data: Readings): readonly number[] {
  if (data.kind === 'individuals') return data.values;
  const readings: number[] = [];
  for (const subgroup of data.subgroups) {
    for (const reading of subgroup) readings.push(reading);
  }
  return readings;
}

/** Limits with null for a missing one. */
export const limitsOf = (input: CapabilityInput): ToleranceLimits => ({
  lowerLimit: input.lowerLimit ?? null,
  upperLimit: input.upperLimit ?? null,
});

/** Readings outside their limits; null where there are no readings. */
export function observedOutside(
  readings: readonly number[] | null,
  limits: ToleranceLimits,
): number | null {
  if (readings === null) return null;
  const low = limits.lowerLimit ?? Number.NEGATIVE_INFINITY;
  const high = limits.upperLimit ?? Number.POSITIVE_INFINITY;
  let outside = 0;
  for (const value of readings) if (value < low || value > high) outside += 1;
  return outside;
}

/** From this number on the outermost percentiles lie between readings, not beyond them. */
export const leastReadingsForPercentiles = 740;
