import type { Drift } from './result-bodies.ts';

export const aboveStandards = 'above the calibration standards';

/** What the drift standard says against the findings of an element. */
export function driftFlags(drift: Drift | undefined): readonly string[] {
  if (!drift || drift.isWithinLimit === true) return [];
  return drift.isWithinLimit === null
    ? ['drift read on one side only']
    : ['drift beyond its limit'];
}
