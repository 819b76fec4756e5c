import { requireDomain } from '../quantity/domain.ts';

/** A value known at a time. */
interface Timed {
  readonly minutes: number;
  readonly value: number;
}

/** A value between two known ones, linear in time, with the shares that the two have in it. */
interface Bracketed {
  readonly value: number;
  readonly before: number;
  readonly after: number;
  readonly shareAfter: number;
}

/** Value at a time, linear between the last known at or before it and the first at or after it. */
export function valueBetween(known: readonly Timed[], minutes: number, field: string): Bracketed {
  let before = -1;
  let after = -1;
  for (const [i, one] of known.entries()) {
    const best = known[before]?.minutes ?? Number.NEGATIVE_INFINITY;
    if (one.minutes <= minutes && one.minutes >= best) before = i;
    const next = known[after]?.minutes ?? Number.POSITIVE_INFINITY;
    if (one.minutes >= minutes && one.minutes < next) after = i;
  }
  const first = known[before];
  const second = known[after];
  requireDomain(first !== undefined && second !== undefined, {
    field,
    value: minutes,
    accepted: `a time between check standards, from ${Math.min(...known.map((one) => one.minutes))} to ${Math.max(...known.map((one) => one.minutes))} min`,
  });
  const width = second.minutes - first.minutes;
  const shareAfter = width === 0 ? 0 : (minutes - first.minutes) / width;
  return {
    value: (1 - shareAfter) * first.value + shareAfter * second.value,
    before,
    after,
    shareAfter,
  };
}
