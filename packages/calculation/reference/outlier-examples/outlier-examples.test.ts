import { describe, expect, it } from 'vitest';
import { dixonCritical } from '../../src/control/precision/dixon-ratio.ts';
import { type OutlierTestsInput, outlierTests } from '../../src/control/precision/outlier-tests.ts';
import values from './values.json' with { type: 'json' };

interface Case {
  readonly id: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: readonly { name: string; value: number; tolerance: number }[];
}

const cases = values.cases as unknown as readonly Case[];

type Side = Extract<OutlierTestsInput['data'], { kind: 'results' }>['side'];

/** The row of a test of the results of a case, on the side of the suspect. */
function rowOf(id: string, test: string, side: Side, suspect: string, significancePercent: number) {
  const one = cases.find((candidate) => candidate.id === id);
  if (!one) throw new Error(`no case ${id}`);
  const results = one.inputs['x'] as number[];
  const data = { kind: 'results' as const, results, side, dixonRatio: 'r10' as const };
  const output = outlierTests({ data, unit: '1', significancePercent });
  const row = output.tests.find((each) => each.test === test && each.suspects[0] === suspect);
  if (!row) throw new Error(`no row ${test}`);
  const expectNear = (name: string, found: number) => {
    const figure = one.expected.find((each) => each.name === name);
    if (!figure) throw new Error(`no figure ${name}`);
    expect(Math.abs(found - figure.value), name).toBeLessThanOrEqual(figure.tolerance);
  };
  return { row, expectNear };
}

describe('worked examples of outlier tests', () => {
  it('keeps the low nitrite result by Grubbs and by Dixon, two-sided at 5 %', () => {
    const grubbs = rowOf('nitrite-n4', 'grubbs-one', 'either', '0.38', 5);
    grubbs.expectNear('Grubbs G', grubbs.row.statistic);
    grubbs.expectNear('Grubbs critical value, P = 0.05', grubbs.row.criticalValue);
    expect(grubbs.row.isOutlier).toBe(false);
    const dixon = rowOf('nitrite-n4', 'dixon', 'either', '0.38', 5);
    dixon.expectNear('Dixon Q', dixon.row.statistic);
    // The book prints 0.831, the table of Rorabacher 0.829.
    dixon.expectNear('Dixon critical value, P = 0.05', dixon.row.criticalValue);
    expect(dixon.row.isOutlier).toBe(false);
  });

  it('rejects 245.57 among eight isotope readings, one-sided at 5 %', () => {
    const { row, expectNear } = rowOf('ehandbook-grubbs', 'grubbs-one', 'highest', '245.57', 5);
    expectNear('G', row.statistic);
    expectNear('critical value', row.criticalValue);
    expect(row.isOutlier).toBe(true);
  });

  it('rejects 0.167 at 90 % and keeps it at 95 %, two-sided', () => {
    const ten = rowOf('dixon-q-10', 'dixon', 'either', '0.167', 10);
    ten.expectNear('Q', ten.row.statistic);
    ten.expectNear('critical 90 % two-sided', ten.row.criticalValue);
    expect(ten.row.isOutlier).toBe(true);
    const five = rowOf('dixon-q-10', 'dixon', 'either', '0.167', 5);
    five.expectNear('critical 95 % two-sided', five.row.criticalValue);
    expect(five.row.isOutlier).toBe(false);
  });
});

describe("the published table of Dixon's r10", () => {
  // The table was made by hand from simulation: 6 results are 0.0025 low in it, and 4 results at 1 % two-sided
  // read 0.926 where simulation and integral give 0.921. laws/precision-outliers simulates both.
  it('agrees with the integral within 0.003', () => {
    for (const [n = 0, five = 0, one = 0, five2 = 0, one2 = 0] of values.dixonR10.rows) {
      expect(Math.abs(dixonCritical(0.05, n, 'r10') - five), `5 %, ${n}`).toBeLessThan(0.003);
      expect(Math.abs(dixonCritical(0.01, n, 'r10') - one), `1 %, ${n}`).toBeLessThan(0.003);
      expect(Math.abs(dixonCritical(0.025, n, 'r10') - five2), `2.5 %, ${n}`).toBeLessThan(0.003);
      const right = n === 4 ? 0.921 : one2;
      expect(Math.abs(dixonCritical(0.005, n, 'r10') - right), `0.5 %, ${n}`).toBeLessThan(0.003);
    }
  });

  it('is the closed form for three results', () => {
    // Integral of the density 3√3/(2π(1 − r + r²)) of Dixon (1951): R = (1 + √3·tan(π/6 − πα/3))/2.
    for (const level of [0.1, 0.05, 0.025, 0.01, 0.005]) {
      const exact = (1 + Math.sqrt(3) * Math.tan(Math.PI / 6 - (Math.PI * level) / 3)) / 2;
      expect(Math.abs(dixonCritical(level, 3, 'r10') - exact)).toBeLessThan(1e-9);
    }
  });
});
