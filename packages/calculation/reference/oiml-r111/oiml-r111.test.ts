import { describe, expect, it } from 'vitest';
import { weightLimits } from '../../src/mass/weight-limits.ts';
import {
  type NominalMass,
  nominalMasses,
  type WeightClass,
  weightLimitMilligrams,
} from '../../src/mass/weight-limits-table.ts';
import values from './values.json' with { type: 'json' };

const limitOf = (nominal: unknown, name: unknown) => {
  const text = weightLimitMilligrams(nominal as NominalMass, name as WeightClass);
  return text === null ? null : Number(text);
};

describe('maximum permissible errors', () => {
  it.each(values.limits.rows.map((row) => [row[0], row] as const))(
    'of %s are as printed',
    (nominal, row) => {
      const [, ...classes] = values.limits.columns;
      const [, ...limits] = row;
      expect(classes.map((name) => limitOf(nominal, name))).toEqual(limits);
    },
  );

  it.each(values.largeWeights.rows.map((row) => [row[0], row] as const))(
    'of %s are as remembered, in all nine classes',
    (nominal, row) => {
      const [, ...classes] = values.largeWeights.columns;
      const [, ...limits] = row;
      expect(classes.map((name) => limitOf(nominal, name))).toEqual(limits);
    },
  );

  it('are there for every nominal mass and for none besides', () => {
    const listed = [...values.largeWeights.rows, ...values.limits.rows].map((row) => row[0]);
    expect(new Set(listed)).toEqual(new Set(nominalMasses));
  });
});

describe('weights judged', () => {
  it.each(values.cases.map((one) => [one.id, one] as const))('%s', (_id, one) => {
    const inputs = one.inputs as Record<string, unknown>;
    const output = weightLimits({
      nominalMass: inputs.nominal as NominalMass,
      weightClass: inputs.class as WeightClass,
      errorMilligrams: Number(inputs['error of conventional mass']),
    });
    const actual = [
      output.limitMilligrams,
      output.greatestExpandedUncertaintyMilligrams,
      output.innerLimitMilligrams,
    ];
    for (const [at, { value, tolerance }] of one.expected.entries()) {
      expect(Math.abs((actual[at] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance);
    }
    // The decision of the case: it does not conform, since the inner limit is exceeded.
    expect(output.verdict).not.toBe('fits');
  });
});
