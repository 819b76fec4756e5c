import { describe, expect, it } from 'vitest';
import { combineResults } from '../../src/uncertainty/combine-results.ts';
import { coverageFactor, welchSatterthwaite } from '../../src/uncertainty/coverage.ts';
import { momentsOf, momentsOfReadings } from '../../src/uncertainty/input-moments.ts';
import { propagate } from '../../src/uncertainty/propagation.ts';
import {
  type UncertaintyBudgetInput,
  uncertaintyBudget,
  uncertaintyBudgetCalculation,
} from '../../src/uncertainty/uncertainty-budget.ts';
import { expectValues, referenceCase, valuesOf } from '../uncertainty-cases.ts';
import values from './values.json' with { type: 'json' };

const one = (id: string) => referenceCase(values.cases, id);

/** Coefficient of correlation of paired readings. */
function correlationOf(x: readonly number[], y: readonly number[]): number {
  const mean = (list: readonly number[]) => list.reduce((sum, v) => sum + v, 0) / list.length;
  const [mx, my] = [mean(x), mean(y)];
  const products = (a: readonly number[], ma: number, b: readonly number[], mb: number) =>
    a.reduce((sum, v, index) => sum + (v - ma) * ((b[index] ?? Number.NaN) - mb), 0);
  return products(x, mx, y, my) / Math.sqrt(products(x, mx, x, mx) * products(y, my, y, my));
}

describe('type A and type B evaluations', () => {
  it('give mean and standard uncertainty of twenty temperatures (4.4.3)', () => {
    const example = one('gum-4.4.3');
    const readings = valuesOf(example, 'readings');
    const { estimate, standardUncertainty } = momentsOfReadings(readings);
    expectValues(example, {
      mean: estimate,
      'experimental standard deviation': standardUncertainty * Math.sqrt(readings.length),
      'standard uncertainty of the mean': standardUncertainty,
    });
  });

  it('give the standard uncertainty of limits (4.4.5, 4.4.6)', () => {
    const limits = { estimate: 100, halfWidth: 4 };
    expectValues(one('gum-4.4.5-rect-tri'), {
      'u rectangular': momentsOf({ kind: 'rectangular', ...limits }).standardUncertainty,
      'u triangular': momentsOf({ kind: 'triangular', ...limits }).standardUncertainty,
    });
  });

  it('give degrees of freedom and expanded uncertainty of a product (G.4.1)', () => {
    const example = one('gum-g.4.1-ws');
    const freedoms = valuesOf(example, 'nu_i');
    const inputs = valuesOf(example, 'relative u').map((relative, index) => ({
      name: `x${index}`,
      unit: '1',
      distribution: {
        kind: 'normal' as const,
        estimate: 100,
        standardUncertainty: relative,
        degreesOfFreedom: freedoms[index] ?? null,
      },
    }));
    const budget = uncertaintyBudget({
      model: 'x0 * x1 * x2',
      inputs,
      correlations: [],
      coverageProbability: 0.95,
    });
    expectValues(example, {
      'relative combined u': budget.relativeStandardUncertaintyPercent ?? Number.NaN,
      'effective degrees of freedom': budget.effectiveDegreesOfFreedom ?? Number.NaN,
      't95(19)': coverageFactor(0.95, 19),
      'relative U95': (100 * coverageFactor(0.95, 19) * budget.standardUncertainty) / budget.value,
    });
  });

  it('give the expanded uncertainty of a mass (7.2.4)', () => {
    const k = coverageFactor(0.95, 9);
    expectValues(one('gum-7.2.2-reporting'), { 'k = t95(9)': k, U: k * 0.35 });
  });

  it('give mean and uncertainty of ten day means (H.5)', () => {
    const example = one('gum-h5');
    const { estimate, standardUncertainty } = momentsOfReadings(valuesOf(example, 'day means'));
    const found = {
      'overall mean': estimate,
      's of day means': standardUncertainty * Math.sqrt(10) * 1e6,
      'u of mean with day effect (nu 9)': standardUncertainty * 1e6,
    };
    expectValues(example, found, Object.keys(found));
  });
});

describe('table of t factors', () => {
  it('agrees in every cell', () => {
    const [, ...columns] = values.tableG2.columns;
    for (const [freedom, ...factors] of values.tableG2.rows) {
      columns.forEach((column, index) => {
        const probability = Number.parseFloat(column) / 100;
        const k = coverageFactor(probability, freedom ?? null);
        const off = Math.abs(k - (factors[index] ?? Number.NaN));
        expect(off, `${freedom} ${column}`).toBeLessThanOrEqual(0.005 + 1e-12);
      });
    }
  });
});

describe('end gauge (H.1)', () => {
  const example = one('gum-h1');

  it('agrees in value, budget, degrees of freedom and both orders', () => {
    const first = uncertaintyBudget(uncertaintyBudgetCalculation.example);
    const second = uncertaintyBudget({
      ...uncertaintyBudgetCalculation.example,
      terms: 'second order',
    });
    const contribution = (name: string) =>
      Math.abs(first.budget.find((line) => line.name === name)?.contribution ?? Number.NaN);
    expectValues(example, {
      l: (50_000_000 + first.value) / 1e6,
      'u_c(l), first order': first.standardUncertainty,
      'contribution l_S': contribution('reference'),
      'contribution d': contribution('difference'),
      'contribution delta_alpha': contribution('expansionDifference'),
      'contribution delta_theta': contribution('temperatureDifference'),
      nu_eff: first.effectiveDegreesOfFreedom ?? Number.NaN,
      'nu used': Math.floor(first.effectiveDegreesOfFreedom ?? Number.NaN),
      't99(16)': first.coverageFactor,
      U99: first.expandedUncertainty,
      'u_c with second-order terms': second.standardUncertainty,
      'second-order term delta_alpha x theta': secondOrderTerm(
        'expansionDifference',
        'temperature',
      ),
      'second-order term alpha_S x delta_theta': secondOrderTerm(
        'expansion',
        'temperatureDifference',
      ),
    });
    expect(second.budget).toHaveLength(6);
  });

  /** The term of two inputs alone: the uncertainty that is left when all others are known exactly. */
  function secondOrderTerm(...names: readonly string[]): number {
    const { example: input } = uncertaintyBudgetCalculation;
    const inputs = input.inputs.map((entry) => {
      const { distribution } = entry;
      if (distribution.kind !== 'normal') throw new Error('not normal');
      const standardUncertainty = names.includes(entry.name) ? distribution.standardUncertainty : 0;
      return { ...entry, distribution: { ...distribution, standardUncertainty } };
    });
    const budget = uncertaintyBudget({ ...input, inputs, terms: 'second order' });
    return Math.sqrt(budget.standardUncertainty ** 2 - budget.firstOrderStandardUncertainty ** 2);
  }

  it('takes second-order terms by itself, since they change the second digit', () => {
    const { terms: _, ...input } = uncertaintyBudgetCalculation.example;
    expect(uncertaintyBudget(input).termsUsed).toBe('second order');
  });

  it('agrees in the degrees of freedom of the difference', () => {
    const d = one('gum-h1-d');
    const freedoms = valuesOf(d, 'nu');
    const parts = valuesOf(d, 'u').map((contribution, index) => ({
      contribution,
      degreesOfFreedom: freedoms[index] ?? null,
    }));
    const u = Math.hypot(...parts.map(({ contribution }) => contribution));
    const unrounded = welchSatterthwaite(parts) ?? Number.NaN;
    // The guide takes u(d) = 9.7 nm, rounded, to the fourth power.
    expectValues(d, { 'u(d)': u, 'nu_eff(d)': unrounded * (9.7 / u) ** 4 });
    expect(unrounded).toBeCloseTo(25.45, 2);
  });
});

describe('resistance, reactance and impedance (H.2)', () => {
  const example = one('gum-h2-approach1');
  const readings = {
    V: valuesOf(example, 'V'),
    I: valuesOf(example, 'I'),
    phi: valuesOf(example, 'phi'),
  };
  const pairs = [
    { first: 'V', second: 'I', coefficient: correlationOf(readings.V, readings.I) },
    { first: 'V', second: 'phi', coefficient: correlationOf(readings.V, readings.phi) },
    { first: 'I', second: 'phi', coefficient: correlationOf(readings.I, readings.phi) },
  ];
  const input = (model: string, names: readonly (keyof typeof readings)[]) =>
    ({
      model,
      inputs: names.map((name) => ({
        name,
        unit: '1',
        source: name,
        distribution: { kind: 'readings', readings: [...readings[name]] },
      })),
      correlations: pairs.filter(
        ({ first, second }) => names.includes(first as 'V') && names.includes(second as 'V'),
      ),
      coverageProbability: 0.95,
      terms: 'first order',
    }) satisfies UncertaintyBudgetInput;
  const budgets = {
    R: uncertaintyBudget(input('1000 * V / I * cos(phi)', ['V', 'I', 'phi'])),
    X: uncertaintyBudget(input('1000 * V / I * sin(phi)', ['V', 'I', 'phi'])),
    Z: uncertaintyBudget(input('1000 * V / I', ['V', 'I'])),
  };

  it('agree in means, results and uncertainties, correlations of inputs and results', () => {
    const combined = combineResults({
      model: 'R + X + Z',
      results: Object.entries(budgets).map(([name, budget]) => ({
        name,
        unit: 'ohm',
        value: budget.value,
        contributions: budget.contributions,
      })),
      sourceCorrelations: budgets.R.sourceCorrelations,
      coverageProbability: 0.95,
    });
    const r = (first: string, second: string) =>
      combined.correlations.find((pair) => pair.first === first && pair.second === second)
        ?.coefficient ?? Number.NaN;
    const moments = (name: keyof typeof readings) => momentsOfReadings(readings[name]);
    expectValues(example, {
      'mean V': moments('V').estimate,
      'u(V)': moments('V').standardUncertainty,
      'mean I': moments('I').estimate,
      'u(I)': moments('I').standardUncertainty,
      'mean phi': moments('phi').estimate,
      'u(phi)': moments('phi').standardUncertainty,
      'r(V,I)': pairs[0]?.coefficient ?? Number.NaN,
      'r(V,phi)': pairs[1]?.coefficient ?? Number.NaN,
      'r(I,phi)': pairs[2]?.coefficient ?? Number.NaN,
      R: budgets.R.value,
      'u(R)': budgets.R.standardUncertainty,
      X: budgets.X.value,
      'u(X)': budgets.X.standardUncertainty,
      Z: budgets.Z.value,
      'u(Z)': budgets.Z.standardUncertainty,
      'r(R,X)': r('R', 'X'),
      'r(R,Z)': r('R', 'Z'),
      'r(X,Z)': r('X', 'Z'),
    });
  });

  it('have the four degrees of freedom of five readings taken together', () => {
    expect(budgets.R.effectiveDegreesOfFreedom).toBeCloseTo(4, 9);
  });

  it('agree when each set is reduced by itself', () => {
    const second = one('gum-h2-approach2');
    const sets = readings.V.map((v, index) => {
      const [z, phi] = [(1000 * v) / (readings.I[index] as number), readings.phi[index] as number];
      return { R: z * Math.cos(phi), X: z * Math.sin(phi), Z: z };
    });
    const of = (name: 'R' | 'X' | 'Z') => momentsOfReadings(sets.map((set) => set[name]));
    expectValues(second, {
      R: of('R').estimate,
      'u(R)': of('R').standardUncertainty,
      X: of('X').estimate,
      'u(X)': of('X').standardUncertainty,
      Z: of('Z').estimate,
      'u(Z)': of('Z').standardUncertainty,
    });
  });
});

describe('calibration line of a thermometer (H.3)', () => {
  it('agrees in the prediction, with and without the covariance', () => {
    const example = one('gum-h3');
    const t = valuesOf(example, 't').map((value) => value - 20);
    const b = valuesOf(example, 'b');
    const n = t.length;
    const sum = (list: readonly number[]) => list.reduce((total, v) => total + v, 0);
    const squares = sum(t.map((v) => v * v));
    const determinant = n * squares - sum(t) ** 2;
    const slope = (n * sum(t.map((v, i) => v * (b[i] as number))) - sum(t) * sum(b)) / determinant;
    const intercept = (sum(b) - slope * sum(t)) / n;
    const s = Math.sqrt(
      sum(t.map((v, i) => ((b[i] as number) - intercept - slope * v) ** 2)) / (n - 2),
    );
    const inputs = [
      {
        name: 'y1',
        estimate: intercept,
        standardUncertainty: s * Math.sqrt(squares / determinant),
        degreesOfFreedom: n - 2,
      },
      {
        name: 'y2',
        estimate: slope,
        standardUncertainty: s * Math.sqrt(n / determinant),
        degreesOfFreedom: n - 2,
      },
    ];
    const coefficient = -sum(t) / Math.sqrt(n * squares);
    const predict = (correlations: Parameters<typeof propagate>[2]) =>
      propagate<'y1' | 'y2'>(
        (a, x) => a.add(x.y1, a.multiply(x.y2, a.constant(10))),
        inputs as Parameters<typeof propagate<'y1' | 'y2'>>[1],
        correlations,
      );
    const line = predict([{ first: 'y1', second: 'y2', coefficient }]);
    expectValues(example, {
      'intercept y1': intercept,
      'u(y1)': inputs[0]?.standardUncertainty ?? Number.NaN,
      'slope y2': slope,
      'u(y2)': inputs[1]?.standardUncertainty ?? Number.NaN,
      'r(y1,y2)': coefficient,
      s,
      'b(30)': line.value,
      'u(b(30))': Math.sqrt(line.firstOrderVariance),
      'degrees of freedom': line.effectiveDegreesOfFreedom ?? Number.NaN,
      'u(b(30)) if the covariance were left out': Math.sqrt(predict([]).firstOrderVariance),
    });
  });
});
