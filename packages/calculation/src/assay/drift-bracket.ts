import { requireDomain } from '../quantity/domain.ts';
import { valueBetween } from './bracket.ts';

/** A reading of the drift standard: its net signal, and how far that is known. */
export interface DriftReading {
  readonly order: number;
  readonly net: number;
  readonly relativeUncertainty: number;
}

/** Sensitivity at a place of the run over that of the calibration. */
interface DriftFactor {
  readonly factor: number;
  /** Relative, of readings of the drift standard alone. */
  readonly relativeUncertainty: number;
}

/** Without a drift standard nothing is taken off. */
const none: DriftFactor = { factor: 1, relativeUncertainty: 0 };

/**
 * Sensitivity at a place of the run, linear between the readings of the drift standard around it,
 * over that of its first reading. A reading that enters twice, as the first does beside itself, takes
 * part with the sum of its weights.
 */
export function driftAt(
  readings: readonly DriftReading[],
  order: number,
  field: string,
): DriftFactor {
  const [first] = readings;
  if (!first) return none;
  const last = readings.reduce((most, one) => Math.max(most, one.order), first.order);
  requireDomain(order >= first.order && order <= last, {
    field,
    value: order,
    accepted: `a place between readings of the drift standard, from ${first.order} to ${last}`,
  });
  const known = readings.map((one) => ({ minutes: one.order, value: one.net / first.net }));
  const { value, before, after, shareAfter } = valueBetween(known, order, field);
  const weights = readings.map(() => 0);
  const add = (index: number, weight: number) => {
    weights[index] = (weights[index] ?? 0) + weight;
  };
  add(0, -1);
  add(before, 1 - shareAfter);
  add(after, shareAfter);
  const parts = readings.map((one, index) => (weights[index] ?? 0) * one.relativeUncertainty);
  return { factor: value, relativeUncertainty: Math.hypot(...parts) };
}
