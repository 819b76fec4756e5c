import { describe, expect, it } from 'vitest';
import { type ScaleClass, scaleLimits } from '../../src/mass/scale-limits.ts';
import {
  errorStepsByClass,
  scaleClasses,
  scaleClassRows,
} from '../../src/mass/scale-limits-table.ts';
import values from './values.json' with { type: 'json' };

describe('loads judged', () => {
  it.each(values.cases.map((one) => [one.id, one] as const))('%s', (_id, one) => {
    const inputs = one.inputs as Record<string, unknown>;
    const { loads } = scaleLimits({
      scaleClass: inputs.class as ScaleClass,
      verificationIntervalGrams: Number(inputs.e),
      capacityGrams: 5000,
      loads: [{ loadGrams: Number(inputs.load) }],
    });
    const [load] = loads;
    const actual = [load?.loadIntervals, load?.limitGrams, load?.limitInServiceGrams];
    for (const [at, { value, tolerance }] of one.expected.entries()) {
      expect(Math.abs((actual[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance);
    }
  });
});

describe('tables', () => {
  it('of classes are as printed', () => {
    const printed = values.classes.rows.map(([name, interval, least, greatest, capacity]) => ({
      scaleClass: name,
      ends: String(interval)
        .match(/\d+(\.\d+)?(?= g)/g)
        ?.slice(0, String(name) === 'I' ? 1 : 2),
      leastIntervals: Number(least),
      greatestIntervals: greatest === null ? null : Number(greatest),
      leastCapacityIntervals: Number.parseInt(String(capacity), 10),
    }));
    const built = scaleClassRows.map(({ leastIntervalGrams, greatestIntervalGrams, ...row }) => ({
      ...row,
      ends: [
        leastIntervalGrams,
        ...(greatestIntervalGrams === null ? [] : [greatestIntervalGrams]),
      ],
    }));
    expect(built).toEqual(printed);
  });

  it('of errors change at the printed loads', () => {
    const upper = (row: number) =>
      (values.errors.rows[row] ?? []).slice(1).map((range) => Number(range.split('..')[1]));
    expect(scaleClasses.map((name) => errorStepsByClass[name].half)).toEqual(upper(0));
    expect(scaleClasses.map((name) => errorStepsByClass[name].one)).toEqual(upper(1));
  });
});
