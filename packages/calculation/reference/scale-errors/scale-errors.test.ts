import { describe, expect, it } from 'vitest';
import { type ScaleClass, scaleLimits } from '../../src/mass/scale-limits.ts';
import values from './values.json' with { type: 'json' };

describe('errors of the scales behind a balance', () => {
  it.each(values.cases.map((one) => [one.id, one] as const))('%s', (_id, one) => {
    const { class_, e_g, load_g } = one.inputs;
    const { loads } = scaleLimits({
      scaleClass: class_ as ScaleClass,
      verificationIntervalGrams: e_g,
      // The capacity does not change the limit at a load; it must only hold the load and fit the class.
      capacityGrams: Math.max(load_g, 5000 * e_g),
      loads: [{ loadGrams: load_g }],
    });
    expect(Math.abs((loads[0]?.limitGrams ?? Number.NaN) - one.expected.mpe_g)).toBeLessThanOrEqual(
      one.tolerance.abs,
    );
    expect(
      Math.abs((loads[0]?.limitInServiceGrams ?? Number.NaN) - one.expected.in_service_g),
    ).toBeLessThanOrEqual(one.tolerance.abs);
  });
});
