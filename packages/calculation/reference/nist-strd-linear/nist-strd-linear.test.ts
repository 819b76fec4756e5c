import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../src/assay/least-squares.ts';
import { fitPolynomial, powersOfX } from '../../src/assay/polynomial-fit.ts';
import values from './values.json' with { type: 'json' };

interface Dataset {
  readonly model: string;
  readonly rows: readonly (readonly number[])[];
  readonly certified: {
    readonly parameters: readonly { name: string; estimate: string; sd: string }[];
    readonly residual_sd: string;
    readonly r_squared?: string;
    readonly regression?: { readonly F: string };
  };
}

const sets = values as unknown as Readonly<Record<string, Dataset>>;

/** Digits of agreement with a certified figure, as the certificates count them. */
function digits(found: number, certified: string): number {
  const value = Number(certified);
  if (found === value) return 15;
  const error = value === 0 ? Math.abs(found) : Math.abs(found / value - 1);
  return Math.min(15, -Math.log10(error));
}

function fit(name: string) {
  const set = sets[name];
  if (!set) throw new Error(`no set ${name}`);
  const count = set.certified.parameters.length;
  const withConstant = name !== 'NoInt1';
  const design =
    name === 'Longley'
      ? { kind: 'variables' as const, names: ['x1', 'x2', 'x3', 'x4', 'x5', 'x6'] }
      : { kind: 'powers' as const, degree: withConstant ? count - 1 : 1 };
  const rows = set.rows.map(([response = 0, ...variables]) => ({ response, variables }));
  return { certified: set.certified, output: leastSquares({ withConstant, design, rows }) };
}

describe('least squares on the Statistical Reference Datasets', () => {
  it.each([
    ['Norris', 13.8],
    ['NoInt1', 14.5],
    ['Longley', 14.5],
    ['Filip', 13.9],
    ['Wampler1', 15],
    ['Wampler2', 13],
    ['Wampler3', 15],
    ['Wampler4', 14.4],
    ['Wampler5', 14.4],
  ])('reaches the certified values of %s to %d digits', (name, least) => {
    const { certified, output } = fit(name);
    for (const [k, { estimate, sd }] of certified.parameters.entries()) {
      const found = output.coefficients[k];
      expect(digits(found?.estimate ?? 0, estimate), `B${k}`).toBeGreaterThanOrEqual(least);
      const spread = digits(found?.standardUncertainty ?? 1, sd);
      expect(spread, `sd of B${k}`).toBeGreaterThanOrEqual(Math.min(least, 13.8));
    }
    const rest = digits(output.residualStandardDeviation, certified.residual_sd);
    expect(rest).toBeGreaterThanOrEqual(Math.min(least, 13.8));
    if (certified.r_squared !== undefined) {
      expect(digits(output.determination ?? 0, certified.r_squared)).toBeGreaterThan(13.5);
    }
    if (certified.regression && Number.isFinite(Number(certified.regression.F))) {
      expect(digits(output.varianceRatio ?? 0, certified.regression.F)).toBeGreaterThan(13.5);
    }
  });

  it('agrees with the faster centred fit on the straight line of Norris to 12 digits', () => {
    const { rows = [], certified } = sets['Norris'] ?? {};
    const line = powersOfX(
      fitPolynomial(
        rows.map(([, x = 0]) => x),
        rows.map(([y = 0]) => y),
        1,
      ),
    );
    for (const [k, one] of (certified?.parameters ?? []).entries()) {
      expect(digits(line.coefficients[k] ?? 0, one.estimate)).toBeGreaterThan(12);
    }
  });
});
