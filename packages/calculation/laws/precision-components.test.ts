import fc from 'fast-check';
import { Matrix, QrDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { gaugeStudy } from '../src/control/precision/gauge-study.ts';
import { homogeneity } from '../src/control/precision/homogeneity.ts';
import { oneWayAnalysis } from '../src/control/precision/one-way-analysis.ts';
import { precisionExperiment } from '../src/control/precision/precision-experiment.ts';
import { repeatabilityLevels } from '../src/control/precision/repeatability-levels.ts';
import { youdenPairs } from '../src/control/precision/youden-pairs.ts';
import { seededNormal } from './simulation.ts';

/** Sum of squares left after least squares on columns of ones for the levels of some labels. */
function residualSquares(
  values: readonly number[],
  labelings: readonly (readonly string[])[],
): number {
  const columns = labelings.flatMap((labels) =>
    [...new Set(labels)].map((level) => labels.map((label) => (label === level ? 1 : 0))),
  );
  // One level of each labelling but the first is left out, so that the columns are independent.
  let start = 0;
  const kept = labelings.flatMap((labels, index) => {
    const size = new Set(labels).size;
    const own = columns.slice(start, start + size);
    start += size;
    return index === 0 ? own : own.slice(1);
  });
  const design = new Matrix(values.map((_, row) => kept.map((column) => column[row] ?? 0)));
  const response = Matrix.columnVector([...values]);
  const fitted = design.mmul(new QrDecomposition(design).solve(response));
  return Matrix.sub(response, fitted).norm('frobenius') ** 2;
}

const readings = (parts: number, operators: number, repeats: number) => {
  const normal = seededNormal(51);
  const part = Array.from({ length: parts }, () => 2 * normal());
  const operator = Array.from({ length: operators }, () => 0.5 * normal());
  return part.flatMap((a, i) =>
    operator.flatMap((b, j) =>
      Array.from({ length: repeats }, () => ({
        part: `P${i}`,
        operator: `O${j}`,
        value: a + b + 0.3 * normal(),
      })),
    ),
  );
};

const common = {
  characteristic: 'Reading',
  unit: '1',
  poolingSignificancePercent: 25,
  studyMultiplier: 6,
  confidencePercent: 95,
  intervalMethod: 'modified-large-sample',
} as const;

describe('analysis of variance by formula and by projection', () => {
  const list = readings(6, 3, 2);
  const values = list.map((one) => one.value);
  const part = list.map((one) => one.part);
  const operator = list.map((one) => one.operator);
  const cell = list.map((one) => `${one.part} ${one.operator}`);
  const all = list.map(() => 'all');

  it('agree for a crossed gauge study', () => {
    const study = gaugeStudy({ ...common, design: 'crossed', readings: list });
    const left = (...labelings: string[][]) => residualSquares(values, labelings);
    const rights = {
      part: left(all) - left(part),
      operator: left(all) - left(operator),
      'part-by-operator': left(part, operator) - left(cell),
      repeatability: left(cell),
    };
    for (const row of study.analysis) {
      expect(Math.abs(row.sumOfSquares / rights[row.source] - 1)).toBeLessThan(1e-9);
    }
  });

  it('agree for a nested gauge study', () => {
    const nested = list.map((one) => ({ ...one, part: `${one.operator}${one.part}` }));
    const study = gaugeStudy({ ...common, design: 'nested', readings: nested });
    const rights: Readonly<Record<string, number>> = {
      operator: residualSquares(values, [all]) - residualSquares(values, [operator]),
      part: residualSquares(values, [operator]) - residualSquares(values, [cell]),
      repeatability: residualSquares(values, [cell]),
    };
    expect(study.analysis.length).toBe(3);
    for (const row of study.analysis) {
      expect(Math.abs(row.sumOfSquares / (rights[row.source] ?? 0) - 1)).toBeLessThan(1e-9);
    }
  });

  it('agree for groups of unequal size', () => {
    const groups = [
      [1.2, 3.4, 2.2],
      [5.5, 4.1],
      [2.9, 3.3, 3.6, 2.4],
    ];
    const labels = groups.flatMap((group, index) => group.map(() => String(index)));
    const flat = groups.flat();
    const analysis = oneWayAnalysis(groups);
    expect(analysis.sumOfSquaresWithin).toBeCloseTo(residualSquares(flat, [labels]), 11);
    const between =
      residualSquares(flat, [flat.map(() => 'all')]) - residualSquares(flat, [labels]);
    expect(analysis.sumOfSquaresBetween).toBeCloseTo(between, 11);
  });
});

describe('two-sample components', () => {
  it('are those of a two-way analysis of laboratories by samples', () => {
    const normal = seededNormal(52);
    const laboratories = Array.from({ length: 12 }, (_, index) => {
      const own = normal();
      return {
        name: `L${index}`,
        first: own + 0.4 * normal(),
        second: 5 + own + 0.4 * normal(),
        isExcluded: false,
      };
    });
    const output = youdenPairs({ ...common, laboratories });
    const values = laboratories.flatMap((one) => [one.first, one.second]);
    const lab = laboratories.flatMap((one) => [one.name, one.name]);
    const sample = laboratories.flatMap(() => ['first', 'second']);
    const all = values.map(() => 'all');
    const within = residualSquares(values, [lab, sample]) / 11;
    const along = (residualSquares(values, [all]) - residualSquares(values, [lab])) / 11;
    expect(output.withinStandardDeviation).toBeCloseTo(Math.sqrt(within), 11);
    expect(output.totalStandardDeviation).toBeCloseTo(Math.sqrt(along), 11);
    expect(output.ratio).toBeCloseTo(along / within, 9);
  });

  it('put about one pair in twenty outside the ellipse of 95 %', () => {
    const normal = seededNormal(53);
    let outside = 0;
    for (let trial = 0; trial < 600; trial += 1) {
      const laboratories = Array.from({ length: 10 }, (_, index) => {
        const own = normal();
        const second = own + 0.5 * normal();
        return { name: `L${index}`, first: own + 0.5 * normal(), second, isExcluded: false };
      });
      const output = youdenPairs({ ...common, laboratories });
      outside += output.laboratories.filter((row) => row.isOutsideEllipse).length;
    }
    // Pairs of one trial depend on each other a little: five standard errors.
    expect(Math.abs(outside / 6000 - 0.05)).toBeLessThan(5 * Math.sqrt((0.05 * 0.95) / 6000));
  });
});

const group = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 5 });
const groups = fc
  .array(group, { minLength: 3, maxLength: 7 })
  .filter((list) => list.some((one) => one.some((value) => value !== one[0])));

describe('laws of the components', () => {
  it('F of two groups is the square of t', () => {
    const [first, second] = [
      [1.1, 2.3, 1.9, 2.8],
      [2.2, 3.9, 3.1],
    ];
    const mean = (list: number[]) => list.reduce((sum, x) => sum + x, 0) / list.length;
    const squares = (list: number[]) => list.reduce((sum, x) => sum + (x - mean(list)) ** 2, 0);
    const pooled = (squares(first) + squares(second)) / 5;
    const t = (mean(first) - mean(second)) / Math.sqrt(pooled * (1 / 4 + 1 / 3));
    expect(oneWayAnalysis([first, second]).ratio).toBeCloseTo(t * t, 12);
  });

  it('do not change with the origin, and scale with the unit, as decimals exactly', () => {
    fc.assert(
      fc.property(groups, fc.integer({ min: -5000, max: 5000 }), (list, shift) => {
        const plain = oneWayAnalysis(list);
        const moved = oneWayAnalysis(list.map((one) => one.map((x) => x + shift)));
        expect(moved.ratio).toBe(plain.ratio);
        const quarter = oneWayAnalysis(list.map((one) => one.map((x) => x + shift + 0.25)));
        expect(Math.abs((quarter.ratio ?? 0) - (plain.ratio ?? 0))).toBeLessThan(
          1e-12 * Math.max(1, plain.ratio ?? 0),
        );
        const finer = oneWayAnalysis(list.map((one) => one.map((x) => x / 1000)));
        expect(Math.abs((finer.ratio ?? 0) - (plain.ratio ?? 0))).toBeLessThan(
          1e-12 * Math.max(1, plain.ratio ?? 0),
        );
      }),
      { seed: 54, numRuns: 200 },
    );
  });

  it('reproducibility is never below repeatability, and outliers found are never more than all but three', () => {
    fc.assert(
      fc.property(groups, (list) => {
        const laboratories = list.map((results, index) => ({
          name: `L${index}`,
          results,
          isExcluded: false,
        }));
        const output = precisionExperiment({ ...common, laboratories });
        expect(output.reproducibilityStandardDeviation).toBeGreaterThanOrEqual(
          output.repeatabilityStandardDeviation,
        );
        const gone = output.scrutiny.flatMap((test) => test.laboratories);
        expect(list.length - gone.length).toBeGreaterThanOrEqual(3);
        // Mandel's h has mean 0, and the squares of k have mean 1.
        const h = output.laboratories.reduce((sum, row) => sum + (row.h ?? 0), 0);
        const k = output.laboratories.reduce((sum, row) => sum + (row.k ?? 0) ** 2, 0);
        expect(h).toBeCloseTo(0, 8);
        expect(k / list.length).toBeCloseTo(1, 10);
      }),
      { seed: 55, numRuns: 25 },
    );
  });

  it('experiment and homogeneity see the same components', () => {
    fc.assert(
      fc.property(groups, (list) => {
        const experiment = precisionExperiment({
          ...common,
          laboratories: list.map((results, i) => ({ name: `L${i}`, results, isExcluded: false })),
        });
        const material = homogeneity({
          ...common,
          items: list.map((results, i) => ({ name: `U${i}`, results })),
        });
        expect(material.betweenUnitStandardDeviation).toBeCloseTo(
          experiment.betweenLaboratoryStandardDeviation,
          9,
        );
        expect(material.repeatabilityStandardDeviation).toBeCloseTo(
          experiment.repeatabilityStandardDeviation,
          9,
        );
      }),
      { seed: 56, numRuns: 25 },
    );
  });

  it('components of a gauge add up', () => {
    for (const design of ['crossed', 'nested'] as const) {
      const list = readings(5, 3, 2).map((one) =>
        design === 'nested' ? { ...one, part: `${one.operator}${one.part}` } : one,
      );
      const { components } = gaugeStudy({ ...common, design, readings: list });
      const of = (source: string) => components.find((one) => one.source === source)?.variance ?? 0;
      expect(of('gauge')).toBeCloseTo(of('reproducibility') + of('repeatability'), 12);
      expect(of('total')).toBeCloseTo(of('gauge') + of('part'), 12);
      for (const one of components) {
        if (one.estimate < 0 || one.standardDeviationLower === null) continue;
        expect(one.standardDeviationLower).toBeLessThanOrEqual(one.standardDeviation + 1e-12);
        expect(one.standardDeviationUpper ?? 0).toBeGreaterThanOrEqual(one.standardDeviation);
      }
    }
  });

  it('levels of a gauge over time come back from simulated readings', () => {
    const normal = seededNormal(57);
    const artefacts = Array.from({ length: 60 }, (_, a) => ({
      name: `A${a}`,
      runs: Array.from({ length: 4 }, (__, b) => {
        const run = 0.3 * normal();
        return {
          name: `R${b}`,
          days: Array.from({ length: 5 }, () => {
            const day = run + 0.2 * normal();
            const list = Array.from({ length: 6 }, () => day + 0.5 * normal());
            const mean = list.reduce((sum, x) => sum + x, 0) / 6;
            const squares = list.reduce((sum, x) => sum + (x - mean) ** 2, 0);
            return { mean, standardDeviation: Math.sqrt(squares / 5), readingCount: 6 };
          }),
        };
      }),
    }));
    const output = repeatabilityLevels({ ...common, artefacts, reportedReadingCount: 1 });
    expect(Math.abs(output.readings.standardDeviation / 0.5 - 1)).toBeLessThan(0.04);
    expect(Math.abs(output.dayComponent / 0.2 - 1)).toBeLessThan(0.12);
    expect(Math.abs((output.runComponent ?? 0) / 0.3 - 1)).toBeLessThan(0.2);
    const right = Math.sqrt(0.3 ** 2 + 0.2 ** 2 + 0.5 ** 2);
    expect(Math.abs(output.reportedStandardUncertainty / right - 1)).toBeLessThan(0.06);
  });
});
