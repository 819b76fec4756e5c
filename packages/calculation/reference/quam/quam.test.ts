import { describe, expect, it } from 'vitest';
import type { InputQuantity } from '../../src/uncertainty/input-quantity-schema.ts';
import { uncertaintyBudget } from '../../src/uncertainty/uncertainty-budget.ts';
import { expectValues, referenceCase, valuesOf } from '../uncertainty-cases.ts';
import values from './values.json' with { type: 'json' };

const one = (id: string) => referenceCase(values.cases, id);

const normal = (name: string, estimate: number, standardUncertainty: number): InputQuantity => ({
  name,
  unit: '1',
  distribution: { kind: 'normal', estimate, standardUncertainty, degreesOfFreedom: null },
});
const within = (
  name: string,
  kind: 'rectangular' | 'triangular',
  estimate: number,
  halfWidth: number,
): InputQuantity => ({ name, unit: '1', distribution: { kind, estimate, halfWidth } });

function budgetOf(
  model: string,
  inputs: InputQuantity[],
  correlations: Parameters<typeof uncertaintyBudget>[0]['correlations'] = [],
) {
  return uncertaintyBudget({
    model,
    inputs,
    correlations,
    coverageProbability: 0.95,
    terms: 'first order',
  });
}

describe('A1, cadmium standard', () => {
  it('agrees with the unrounded recalculation', () => {
    const output = budgetOf('1000 * m * P / (V * repeatability * temperature)', [
      normal('m', 100.28, 0.05),
      within('P', 'rectangular', 0.9999, 0.0001),
      within('V', 'triangular', 100, 0.1),
      normal('repeatability', 1, 0.02 / 100),
      within('temperature', 'rectangular', 1, 0.084 / 100),
    ]);
    expectValues(
      one('quam-a1'),
      {
        c_Cd: output.value,
        'u(c_Cd), unrounded steps': output.standardUncertainty,
        'u(c_Cd), as printed in the guide': output.standardUncertainty,
      },
      ['c_Cd', 'u(c_Cd), unrounded steps', 'u(c_Cd), as printed in the guide'],
    );
    // The guide doubles its rounded 0.9 mg/L.
    expectValues(one('quam-a1'), { 'U (k = 2), as printed': 2 * 0.9 }, ['U (k = 2), as printed']);
  });
});

describe('A2, standardising sodium hydroxide', () => {
  it('agrees in molar mass, result and every contribution', () => {
    const masses = budgetOf('8 * C + 5 * H + 4 * O + K', [
      within('C', 'rectangular', 12.0107, 0.0008),
      within('H', 'rectangular', 1.00794, 0.00007),
      within('O', 'rectangular', 15.9994, 0.0003),
      within('K', 'rectangular', 39.0983, 0.0001),
    ]);
    // The balance enters twice (tare and gross), each with the half-width of its linearity.
    const massUncertainty = Math.SQRT2 * (0.00015 / Math.sqrt(3));
    const volumeUncertainty = Math.hypot(0.03 / Math.sqrt(6), 0.006);
    const output = budgetOf('1000 * m * P * repeatability / (M * V)', [
      normal('m', 0.3888, massUncertainty),
      within('P', 'rectangular', 1, 0.0005),
      normal('M', masses.value, masses.standardUncertainty),
      normal('V', 18.64, volumeUncertainty),
      normal('repeatability', 1, 0.0005),
    ]);
    const contribution = (name: string) =>
      Math.abs(output.budget.find((line) => line.name === name)?.contribution ?? Number.NaN);
    expectValues(one('quam-a2'), {
      M_KHP: masses.value,
      'u(M_KHP)': masses.standardUncertainty,
      c_NaOH: output.value,
      'u(c_NaOH)': output.standardUncertainty,
      'u(c) unrounded': output.standardUncertainty,
      'contribution V_T': contribution('V'),
      'contribution repeatability': contribution('repeatability'),
      'contribution m_KHP': contribution('m'),
      'contribution P_KHP': contribution('P'),
      'U (k = 2)': 2 * output.standardUncertainty,
    });
  });
});

describe('A4, pesticide in bread', () => {
  it('agrees in relative and expanded uncertainty', () => {
    const output = budgetOf('1.11 * precision * bias * homogeneity', [
      normal('precision', 1, 0.27),
      normal('bias', 1, 0.048),
      normal('homogeneity', 1, 0.2),
    ]);
    const relative = (output.relativeStandardUncertaintyPercent ?? Number.NaN) / 100;
    expectValues(one('quam-a4'), {
      'relative u': relative,
      // The guide multiplies 1.11 by the rounded 0.34.
      u: 1.11 * 0.34,
      'U (k = 2)': 2 * output.standardUncertainty,
    });
    expect(output.standardUncertainty).toBeCloseTo(0.3768, 4);
  });
});

describe('A5, cadmium from ceramic ware', () => {
  it('agrees in the calibration curve, read through correlated coefficients', () => {
    const example = one('quam-a5-curve');
    const c = valuesOf(example, 'c');
    const a = valuesOf(example, 'A');
    const sample = valuesOf(example, 'sample absorbance');
    const mean = (list: readonly number[]) => list.reduce((sum, v) => sum + v, 0) / list.length;
    const n = c.length;
    const centre = mean(c);
    const spread = c.reduce((sum, v) => sum + (v - centre) ** 2, 0);
    const slope =
      c.reduce((sum, v, index) => sum + (v - centre) * (a[index] as number), 0) / spread;
    const intercept = mean(a) - slope * centre;
    const residuals = c.map((v, index) => (a[index] as number) - intercept - slope * v);
    const s = Math.sqrt(residuals.reduce((sum, v) => sum + v * v, 0) / (n - 2));
    const interceptUncertainty = s * Math.sqrt(1 / n + centre ** 2 / spread);
    const slopeUncertainty = s / Math.sqrt(spread);
    const coefficient = -centre / Math.sqrt(spread / n + centre ** 2);
    const output = budgetOf(
      '(absorbance - intercept) / slope',
      [
        normal('absorbance', mean(sample), s / Math.sqrt(sample.length)),
        normal('intercept', intercept, interceptUncertainty),
        normal('slope', slope, slopeUncertainty),
      ],
      [{ first: 'intercept', second: 'slope', coefficient }],
    );
    expectValues(example, {
      intercept,
      'u(intercept)': interceptUncertainty,
      slope,
      'u(slope)': slopeUncertainty,
      c0: output.value,
      'u(c0)': output.standardUncertainty,
      'residual standard deviation': s,
    });
  });

  it('agrees in the result, the error of the source put right', () => {
    const area = budgetOf('pi * (diameter / 2)^2 * shape', [
      normal('diameter', 2.7, 0.01),
      normal('shape', 1, 0.05 / 1.96),
    ]);
    const output = budgetOf('c0 * V / area * acid * time * temperature', [
      normal('c0', 0.2601659751, 0.01784461113),
      normal('V', 0.33034, 0.001823775324),
      normal('area', area.value, area.standardUncertainty),
      normal('acid', 1, 0.0008),
      within('time', 'rectangular', 1, 0.0015),
      within('temperature', 'rectangular', 1, 0.1),
    ]);
    const right = ['a_V', 'u(a_V) corrected', 'r', 'u(r) corrected'];
    expectValues(
      one('quam-a5-result'),
      {
        a_V: area.value,
        'u(a_V) corrected': area.standardUncertainty,
        r: output.value,
        'u(r) corrected': output.standardUncertainty,
      },
      right,
    );
    // Printed as 0.19 dm²: an error of the source.
    expect(Math.abs(area.standardUncertainty - 0.19)).toBeGreaterThan(0.03);
  });
});
