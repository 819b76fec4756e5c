import { describe, expect, it } from 'vitest';
import { type CalibrationLineInput, calibrationLine } from '../../src/assay/calibration-line.ts';
import values from './values.json' with { type: 'json' };

type Inputs = Readonly<Record<string, unknown>>;
const numbers = (inputs: Inputs, name: string) => inputs[name] as number[];

function caseOf(id: string) {
  const found = values.cases.find((one) => one.id === id);
  if (!found) throw new Error(`no case ${id}`);
  return { inputs: found.inputs as Inputs, expected: found.expected };
}

interface Plan {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly uy?: readonly number[];
  readonly ux?: readonly number[];
  readonly weighting?: CalibrationLineInput['weighting'];
  readonly model?: CalibrationLineInput['model'];
  readonly level?: number;
  readonly readings?: readonly { signal: number; count?: number; u?: number }[];
}

const run = (plan: Plan) =>
  calibrationLine({
    model: plan.model ?? 'straight line',
    weighting: plan.weighting ?? 'equal',
    confidencePercent: plan.level ?? 95,
    points: plan.x.map((content, i) => ({
      content,
      signal: plan.y[i] ?? 0,
      ...(plan.uy === undefined ? {} : { signalStandardUncertainty: plan.uy[i] ?? 0 }),
      ...(plan.ux === undefined ? {} : { contentStandardUncertainty: plan.ux[i] ?? 0 }),
    })),
    readings: (plan.readings ?? []).map((one, i) => ({
      label: `${i}`,
      signal: one.signal,
      readings: one.count ?? 1,
      ...(one.u === undefined ? {} : { signalStandardUncertainty: one.u }),
    })),
  });

type Result = ReturnType<typeof run>;
const intercept = (result: Result) => result.coefficients[0];
const slope = (result: Result) => result.coefficients[1];
const first = (result: Result) => {
  const [one] = result.predictions;
  if (!one) throw new Error('no prediction');
  return one;
};
/** Half of the exact interval; it is not quite even about the content. */
const halfWidth = (result: Result) => {
  const { lower, upper } = first(result);
  return ((upper ?? Number.NaN) - (lower ?? Number.NaN)) / 2;
};

/** Compares every expected figure of a case that the map names, and says how many it named. */
function compare(id: string, actual: Readonly<Record<string, number | null | undefined>>): void {
  const { expected } = caseOf(id);
  const named = expected.filter((one) => one.name in actual);
  expect(named).toHaveLength(Object.keys(actual).length);
  for (const { name, value, tolerance } of named) {
    expect(Math.abs((actual[name] ?? Number.NaN) - value), `${id}: ${name}`).toBeLessThanOrEqual(
      tolerance,
    );
  }
}

describe('calibration line against printed results', () => {
  it('gives the fluorescein line of Miller and Miller', () => {
    const { inputs } = caseOf('fluorescein-line');
    const result = run({ x: numbers(inputs, 'c'), y: numbers(inputs, 'intensity') });
    const half = 2.570581835636314; // t at 0.975 and 5 degrees of freedom, as in every table: 2.571
    compare('fluorescein-line', {
      slope: slope(result)?.estimate,
      intercept: intercept(result)?.estimate,
      r: Math.sqrt(result.determination ?? 0),
      's_y/x': result.residualStandardDeviation,
      s_b: slope(result)?.standardUncertainty,
      s_a: intercept(result)?.standardUncertainty,
      '95 % half-width of slope': half * (slope(result)?.standardUncertainty ?? 0),
      '95 % half-width of intercept': half * (intercept(result)?.standardUncertainty ?? 0),
      'slope, more places': slope(result)?.estimate,
      'intercept, more places': intercept(result)?.estimate,
      's_y/x, more places': result.residualStandardDeviation,
      R2: result.determination,
    });
  });

  for (const signal of [2.9, 13.5]) {
    it(`reads a content back from the signal ${signal}`, () => {
      const id = `fluorescein-inverse-${signal}`;
      const { inputs } = caseOf(id);
      const result = run({
        x: numbers(inputs, 'c'),
        y: numbers(inputs, 'intensity'),
        readings: [{ signal }],
      });
      const found = first(result);
      // The book prints t·s, the interval here is exact: half of it agrees within the printed place.
      compare(id, {
        x0: found.content,
        s_x0: found.standardUncertainty,
        '95 % half-width': 2.570581835636314 * found.standardUncertainty,
      });
      expect(Math.abs(halfWidth(result) / (2.5706 * found.standardUncertainty) - 1)).toBeLessThan(
        0.003,
      );
    });
  }

  it('narrows with the number of readings', () => {
    const id = 'fluorescein-inverse-replicates';
    const { inputs } = caseOf(id);
    const of = (count: number) =>
      run({
        x: numbers(inputs, 'c'),
        y: numbers(inputs, 'intensity'),
        readings: [{ signal: 13.5, count }],
      });
    compare(id, {
      's_x0, m = 4': first(of(4)).standardUncertainty,
      's_x0, m = 6': first(of(6)).standardUncertainty,
      'lower 95 %, m = 6': first(of(6)).lower,
      'upper 95 %, m = 6': first(of(6)).upper,
    });
  });

  it('extrapolates standard additions of silver as a reading of an exact 0', () => {
    const id = 'silver-standard-additions';
    const { inputs } = caseOf(id);
    const result = run({
      x: numbers(inputs, 'added Ag'),
      y: numbers(inputs, 'absorbance'),
      readings: [{ signal: 0, u: 0 }],
    });
    const found = first(result);
    compare(id, {
      slope: slope(result)?.estimate,
      intercept: intercept(result)?.estimate,
      'Ag in sample': -found.content,
      s_xE: found.standardUncertainty,
      '95 % half-width': halfWidth(result),
      's_y/x': result.residualStandardDeviation,
    });
  });

  it('gives the weighted and the unweighted line', () => {
    const id = 'weighted-regression';
    const { inputs } = caseOf(id);
    const x = numbers(inputs, 'c');
    const y = numbers(inputs, 'absorbance');
    const readings = [
      { signal: 0.1, u: 0.01 },
      { signal: 0.6, u: 0.01 },
    ];
    const weighted = run({ x, y, uy: numbers(inputs, 's'), weighting: 'relative', readings });
    const plain = run({ x, y, readings });
    compare(id, {
      'weighted slope': slope(weighted)?.estimate,
      'weighted intercept': intercept(weighted)?.estimate,
      'x0 at 0.100, weighted': weighted.predictions[0]?.content,
      'x0 at 0.600, weighted': weighted.predictions[1]?.content,
      'unweighted slope': slope(plain)?.estimate,
      'unweighted intercept': intercept(plain)?.estimate,
      'x0 at 0.100, unweighted': plain.predictions[0]?.content,
      'x0 at 0.600, unweighted': plain.predictions[1]?.content,
    });
  });

  it('gives the half-width of DIN 32645 at the signal 3500', () => {
    const { inputs } = caseOf('din32645');
    const result = run({
      x: numbers(inputs, 'x'),
      y: numbers(inputs, 'y'),
      level: 99,
      readings: [{ signal: 3500 }],
    });
    // t at 0.995 and 8 degrees of freedom, as in every table: 3.355.
    compare('din32645', {
      'half-width of x at y = 3500, 99 %': 3.3553873313333957 * first(result).standardUncertainty,
      slope: slope(result)?.estimate,
      intercept: intercept(result)?.estimate,
      's_y/x': result.residualStandardDeviation,
    });
  });

  for (const id of ['massart7-15-m1', 'massart7-90-m1']) {
    it(`gives ${id}`, () => {
      const { inputs } = caseOf(id);
      const result = run({
        x: numbers(inputs, 'x'),
        y: numbers(inputs, 'y'),
        readings: [{ signal: inputs['y0'] as number }],
      });
      // t at 0.975 and 4 degrees of freedom: 2.776.
      compare(id, {
        x0: first(result).content,
        s_x0: first(result).standardUncertainty,
        '95 % half-width': 2.7764451051977987 * first(result).standardUncertainty,
      });
    });
  }

  it('weights as Massart does, the weights known but for a common factor', () => {
    const { inputs } = caseOf('massart8-15');
    const series = inputs['y (5 series)'] as number[][];
    const x = numbers(inputs, 'x');
    const y = x.map((_, i) => series.reduce((sum, one) => sum + (one[i] ?? 0), 0) / series.length);
    const uy = numbers(inputs, 'weights (1/s^2 of the rounded s, three places)').map(
      (weight) => 1 / Math.sqrt(weight),
    );
    const u = 1 / Math.sqrt(inputs['sample weight'] as number);
    const result = run({ x, y, uy, weighting: 'relative', readings: [{ signal: 15, u }] });
    compare('massart8-15', {
      x0: first(result).content,
      s_x0: first(result).standardUncertainty,
      '95 % half-width': 2.7764451051977987 * first(result).standardUncertainty,
    });
  });

  for (const [id, level] of [
    ['graybill-thermostat-104', 95],
    ['graybill-thermostat-100', 90],
  ] as const) {
    it(`gives the inversion interval ${id}`, () => {
      const { inputs } = caseOf(id);
      const result = run({
        x: numbers(inputs, 'temperature'),
        y: numbers(inputs, 'reading'),
        level,
        readings: [{ signal: inputs['y0'] as number }],
      });
      const { content, lower, upper } = first(result);
      compare(id, { x0: content, lower, upper });
    });
  }

  it('gives the regulation interval of the crystals, with and without a new reading', () => {
    const { inputs } = caseOf('graybill-crystal');
    const of = (u?: number) =>
      first(
        run({
          x: numbers(inputs, 'time'),
          y: numbers(inputs, 'weight'),
          level: 90,
          readings: [{ signal: 5, ...(u === undefined ? {} : { u }) }],
        }),
      );
    const { content, lower, upper, standardUncertainty } = of(0);
    compare('graybill-crystal', {
      x0: content,
      lower,
      upper,
      'Wald s, one new reading': of().standardUncertainty,
      'Wald s, mean response': standardUncertainty,
    });
  });

  it('gives the weighted line of ISO/TS 28037, clause 6', () => {
    const { inputs } = caseOf('iso28037-wls1');
    const result = run({
      x: numbers(inputs, 'x'),
      y: numbers(inputs, 'y'),
      uy: numbers(inputs, 'u(y)'),
      weighting: 'known',
      readings: [{ signal: 10.5, u: 0.5 }],
    });
    compare('iso28037-wls1', {
      'intercept a': intercept(result)?.estimate,
      'slope b': slope(result)?.estimate,
      'u(a)': intercept(result)?.standardUncertainty,
      'u(b)': slope(result)?.standardUncertainty,
      'cov(a,b)': result.covariance[0]?.[1],
      'chi-squared': result.chiSquare,
      x0: first(result).content,
      'u(x0)': first(result).standardUncertainty,
    });
  });

  it('gives the line of ISO/TS 28037, clause 7, with uncertainty in both variables', () => {
    const { inputs } = caseOf('iso28037-gdr');
    const x = numbers(inputs, 'x');
    const result = run({
      x,
      y: numbers(inputs, 'y'),
      ux: x.map(() => inputs['u(x)'] as number),
      uy: numbers(inputs, 'u(y)'),
      weighting: 'both',
    });
    compare('iso28037-gdr', {
      'intercept a': intercept(result)?.estimate,
      'slope b': slope(result)?.estimate,
      'u(a)': intercept(result)?.standardUncertainty,
      'u(b)': slope(result)?.standardUncertainty,
      'cov(a,b)': result.covariance[0]?.[1],
      'chi-squared': result.chiSquare,
    });
  });

  it('gives the line of Bevington, Table 6.1', () => {
    const { inputs } = caseOf('bevington-6.1');
    const result = run({ x: numbers(inputs, 'x'), y: numbers(inputs, 'y') });
    compare('bevington-6.1', {
      intercept: intercept(result)?.estimate,
      'u(a)': intercept(result)?.standardUncertainty,
      slope: slope(result)?.estimate,
      'u(b)': slope(result)?.standardUncertainty,
    });
  });

  it("gives Pearson's points with York's weights in y alone", () => {
    const { inputs } = caseOf('pearson-york-y');
    const result = run({
      x: numbers(inputs, 'x'),
      y: numbers(inputs, 'y'),
      uy: numbers(inputs, 'w(y)').map((weight) => 1 / Math.sqrt(weight)),
      weighting: 'known',
    });
    compare('pearson-york-y', {
      intercept: intercept(result)?.estimate,
      slope: slope(result)?.estimate,
      'var(a)': result.covariance[0]?.[0],
      'var(b)': result.covariance[1]?.[1],
      'cov(a,b)': result.covariance[0]?.[1],
    });
  });

  it("gives Pearson's points with York's weights in both, as York and others (2004) print them", () => {
    const { inputs } = caseOf('pearson-york-y');
    // In the case above the two variables are exchanged; the other weights and the results are
    // from memory of the paper, Tables I and II.
    const root = (weight: number) => 1 / Math.sqrt(weight);
    const result = run({
      x: numbers(inputs, 'y'),
      y: numbers(inputs, 'x'),
      ux: numbers(inputs, 'w(y)').map(root),
      uy: [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500].map(root),
      weighting: 'both',
    });
    expect(intercept(result)?.estimate).toBeCloseTo(5.47991022, 8);
    expect(slope(result)?.estimate).toBeCloseTo(-0.480533407, 9);
    expect(result.chiSquare).toBeCloseTo(11.8663532, 7);
    expect(intercept(result)?.standardUncertainty).toBeCloseTo(0.295, 3);
    expect(slope(result)?.standardUncertainty).toBeCloseTo(0.058, 3);
  });
});

describe('calibration of the NIST handbook', () => {
  const { 'load-cell': cell, 'line-width': width } = values.nist;
  const columns = (points: readonly (readonly number[])[]) => ({
    x: points.map(([one = 0]) => one),
    y: points.map(([, two = 0]) => two),
  });

  it('bends for the load cell, whose straight line lacks fit', () => {
    const line = run(columns(cell.points));
    const { linear, quadratic, lack_of_fit_linear: lack } = cell.computed.values;
    expect((line.lackOfFitRatio ?? 0) / lack.F).toBeCloseTo(1, 7);
    expect(slope(line)?.estimate).toBeCloseTo(linear.coefficients.load_units, 12);
    const bent = run({ ...columns(cell.points), model: 'parabola' });
    const expected = Object.values(quadratic.coefficients);
    const spreads = Object.values(quadratic.se);
    for (const [k, one] of bent.coefficients.entries()) {
      expect(one.estimate / (expected[k] ?? 0)).toBeCloseTo(1, 9);
      expect(one.standardUncertainty / (spreads[k] ?? 0)).toBeCloseTo(1, 9);
    }
    expect(bent.residualStandardDeviation / quadratic.residual_sd).toBeCloseTo(1, 9);
    expect(line.words).toContain('does not fit the repeated standards');
  });

  it('reads a line width back', () => {
    const result = run({ ...columns(width.points), readings: [{ signal: 1.5 }] });
    const { coefficients, se } = width.computed.values;
    expect(intercept(result)?.estimate).toBeCloseTo(coefficients['(Intercept)'], 10);
    expect(slope(result)?.standardUncertainty).toBeCloseTo(se.reference_um, 12);
    expect(first(result).content).toBeCloseTo(width.computed.values['inverse_for_1.5_um'], 9);
  });
});
