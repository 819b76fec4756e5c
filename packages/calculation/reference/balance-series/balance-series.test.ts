import { describe, expect, it } from 'vitest';
import { seededNormal } from '../../laws/simulation.ts';
import {
  type BalancePeriod,
  balanceCovariance,
  balanceResiduals,
  balanceSeries,
  cumulativeBalances,
  followBalances,
} from '../../src/balance/balance-series.ts';
import { cusum } from '../../src/control/cusum.ts';
import { cusumAverageRunLength } from '../../src/control/cusum-run-length.ts';
import values from './values.json' with { type: 'json' };

interface Tolerance {
  readonly abs?: number;
  readonly rel?: number;
  readonly n_se?: number;
}

interface Case<Inputs, Expected> {
  readonly id: string;
  readonly title: string;
  readonly inputs: Inputs;
  readonly expected: Expected;
  readonly tolerance: Tolerance;
}

function casesOf<Inputs, Expected>(kind: string): Case<Inputs, Expected>[] {
  const found = values.cases.filter((one) => one.kind === kind);
  if (found.length === 0) throw new Error(`no case of kind ${kind}`);
  return found as unknown as Case<Inputs, Expected>[];
}

function expectNear(actual: number | undefined, expected: number, tolerance: Tolerance): void {
  const allowed = (tolerance.abs ?? 0) + (tolerance.rel ?? 0) * Math.abs(expected);
  expect(Math.abs((actual ?? Number.NaN) - expected)).toBeLessThanOrEqual(allowed);
}

interface Model {
  readonly sI: number;
  readonly sT: number;
  readonly sS?: number;
}

const periodOf = (model: Model, differenceGrams: number, index: number): BalancePeriod => ({
  differenceGrams,
  openingStandardUncertaintyGrams: index === 0 ? model.sI : null,
  endingStandardUncertaintyGrams: model.sI,
  transferStandardUncertaintyGrams: model.sT,
  persistent: model.sS ? [{ source: 'calibration', effectGrams: model.sS }] : [],
});

const seriesOf = (model: Model, differences: readonly number[]): BalancePeriod[] =>
  differences.map((difference, index) => periodOf(model, difference, index));

const equal = (count: number, value: number): number[] => new Array<number>(count).fill(value);

const fullSeries = (model: Model, differences: readonly number[]) =>
  balanceSeries({
    periods: seriesOf(model, differences).map((period, index) => ({
      ...period,
      persistent: [...period.persistent],
      label: `shift ${index + 1}`,
    })),
    referenceValue: 0.5,
    decision: { by: 'interval', decisionInterval: 4 },
    headstartFraction: 0,
    sumsBeginAtPeriod: 1,
  });

describe('covariance and cumulative difference', () => {
  for (const one of casesOf<Model & { n: number }, { sigma: number }>('cumuf_sigma')) {
    it(`${one.id} ${one.title}`, () => {
      const periods = seriesOf(one.inputs, equal(one.inputs.n, 0));
      const last = cumulativeBalances(periods).at(-1);
      expectNear(last?.standardUncertaintyGrams, one.expected.sigma, one.tolerance);
      const sum = balanceCovariance(periods)
        .flat()
        .reduce((total, entry) => total + entry, 0);
      expectNear(Math.sqrt(sum), one.expected.sigma, one.tolerance);
    });
  }

  for (const one of casesOf<Model & { n: number }, { cov: number[][] }>('muf_cov')) {
    it(`${one.id} ${one.title}`, () => {
      const covariance = balanceCovariance(seriesOf(one.inputs, equal(one.inputs.n, 0)));
      for (const [row, entries] of one.expected.cov.entries()) {
        for (const [column, entry] of entries.entries()) {
          expectNear(covariance[row]?.[column], entry, one.tolerance);
        }
      }
    });
  }
});

describe('residuals', () => {
  for (const one of casesOf<Model & { muf: number[] }, { z: number[] }>('sitmuf')) {
    it(`${one.id} ${one.title}, persistent error ${one.inputs.sS} g`, () => {
      const output = fullSeries(one.inputs, one.inputs.muf);
      for (const [index, z] of one.expected.z.entries()) {
        expectNear(output.periods[index]?.residual, z, one.tolerance);
      }
    });
  }

  type Quadratic = { stat: number; p_value: number };
  for (const one of casesOf<Model & { muf: number[] }, Quadratic>('quadratic_test')) {
    it(`${one.id} ${one.title}, persistent error ${one.inputs.sS} g`, () => {
      const output = fullSeries(one.inputs, one.inputs.muf);
      expectNear(output.quadraticStatistic, one.expected.stat, one.tolerance);
      expectNear(output.quadraticProbability, one.expected.p_value, one.tolerance);
    });
  }

  type Loss = Model & { n: number; loss_per_shift: number };
  type Means = { first: number; third: number; last: number };
  for (const one of casesOf<Loss, Means>('sitmuf_mean')) {
    it(`${one.id} ${one.title}`, () => {
      const { n, loss_per_shift: loss } = one.inputs;
      const means = balanceResiduals(seriesOf(one.inputs, equal(n, loss)));
      expectNear(means[0]?.residual, one.expected.first, one.tolerance);
      expectNear(means[2]?.residual, one.expected.third, one.tolerance);
      expectNear(means[n - 1]?.residual, one.expected.last, one.tolerance);
    });
  }

  for (const one of casesOf<Model, { sd: number }>('steady_innovation')) {
    it(`${one.id} ${one.title}`, () => {
      const last = balanceResiduals(seriesOf(one.inputs, equal(60, 0))).at(-1);
      expectNear(last?.residualStandardUncertaintyGrams, one.expected.sd, one.tolerance);
    });
  }
});

describe("paths of Page's sums", () => {
  type Path = { x: number[]; k: number; h: number; headstart: number };
  type Sums = { upper: number[]; lower: number[]; first_alarm: number };
  for (const one of casesOf<Path, Sums>('page_path')) {
    it(`${one.id} ${one.title}`, () => {
      const { x, k, h, headstart } = one.inputs;
      // A balance with transfers of 1 g alone is its own residual.
      const output = balanceSeries({
        periods: x.map((differenceGrams, index) => ({
          label: String(index + 1),
          differenceGrams,
          openingStandardUncertaintyGrams: 0,
          endingStandardUncertaintyGrams: 0,
          transferStandardUncertaintyGrams: 1,
          persistent: [],
        })),
        referenceValue: k,
        decision: { by: 'interval', decisionInterval: h },
        headstartFraction: headstart / h,
        sumsBeginAtPeriod: 1,
      });
      for (const [index, period] of output.periods.entries()) {
        expectNear(
          period.upperSum ?? undefined,
          one.expected.upper[index] ?? Number.NaN,
          one.tolerance,
        );
        expectNear(
          period.lowerSum ?? undefined,
          one.expected.lower[index] ?? Number.NaN,
          one.tolerance,
        );
      }
      expect(output.signals[0]?.firstPeriod).toBe(String(one.expected.first_alarm));
    });
  }
});

/** Differences of a plant without end: shared stocks, transfers, one persistent error, a steady loss. */
function plantOf(model: Model, loss: number, normal: () => number): () => number {
  const { sI, sT, sS = 0 } = model;
  const lasting = sS * normal();
  let opening = sI * normal();
  return () => {
    const ending = sI * normal();
    const difference = opening - ending + sT * normal() + lasting + loss;
    opening = ending;
    return difference;
  };
}

/** Periods until the upper sum signals, at most so many; the count after that is one more. */
function runLength(next: () => number, design: { k: number; h: number }, most: number): number {
  let sum = 0;
  for (let length = 1; length <= most; length += 1) {
    sum = Math.max(0, sum + next() - design.k);
    if (sum > design.h) return length;
  }
  return most + 1;
}

function residualRun(model: Model, differences: () => number): () => number {
  const follow = followBalances(model.sS ? ['calibration'] : []);
  let index = -1;
  return () => {
    index += 1;
    return follow(periodOf(model, differences(), index)).residual;
  };
}

interface Simulated extends Model {
  readonly k: number;
  readonly h: number;
  readonly statistic: 'sitmuf' | 'raw';
  readonly losses: number[];
}

const meanOf = (lengths: readonly number[]) => {
  const mean = lengths.reduce((sum, one) => sum + one, 0) / lengths.length;
  const squares = lengths.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  return { mean, error: Math.sqrt(squares / (lengths.length - 1) / lengths.length) };
};

describe('simulated run lengths', () => {
  for (const one of casesOf<Simulated, { arl: number[]; se: number[] }>('arl_simulated')) {
    for (const [index, loss] of one.inputs.losses.entries()) {
      it(`${one.id} ${one.title}: loss ${loss} g`, () => {
        const normal = seededNormal(1000 + index);
        const { inputs } = one;
        const own = Math.sqrt(inputs.sT ** 2 + 2 * inputs.sI ** 2);
        const runs = loss <= 1 ? 400 : 1000;
        const lengths = Array.from({ length: runs }, () => {
          const differences = plantOf(inputs, loss, normal);
          const next =
            inputs.statistic === 'raw'
              ? () => differences() / own
              : residualRun(inputs, differences);
          return runLength(next, inputs, 100_000);
        });
        const { mean, error } = meanOf(lengths);
        const expected = one.expected.arl[index] ?? Number.NaN;
        const both = Math.hypot(error, one.expected.se[index] ?? Number.NaN);
        expect(Math.abs(mean - expected)).toBeLessThan((one.tolerance.n_se ?? 0) * both);
        if (loss === 0) {
          // Without a loss the residuals are independent, so that the integral equation holds.
          const design = { referenceValue: inputs.k, decisionInterval: inputs.h } as const;
          const exact = cusumAverageRunLength({ ...design, sides: 'one' }, 0);
          expect(Math.abs(mean - exact)).toBeLessThan(4 * error);
        }
      });
    }
  }

  interface Detection {
    readonly n: number;
    readonly sI: number;
    readonly sT: number;
    readonly k: number;
    readonly h: number;
    readonly sS: number[];
    readonly losses: number[];
  }
  for (const one of casesOf<Detection, { p: number[][]; se: number }>('detection_simulated')) {
    for (const [row, sS] of one.inputs.sS.entries()) {
      it(`${one.id} ${one.title}: persistent error ${sS} g`, () => {
        const { n, sI, sT, losses } = one.inputs;
        const model = { sI, sT, sS };
        const normal = seededNormal(60 + row);
        const runs = 1500;
        for (const [column, loss] of losses.entries()) {
          let found = 0;
          for (let run = 0; run < runs; run += 1) {
            const next = residualRun(model, plantOf(model, loss, normal));
            if (runLength(next, one.inputs, n) <= n) found += 1;
          }
          const expected = one.expected.p[row]?.[column] ?? Number.NaN;
          const error = Math.hypot(Math.sqrt((expected * (1 - expected)) / runs), one.expected.se);
          expect(Math.abs(found / runs - expected)).toBeLessThan(4 * error);
        }
      });
    }
  }
});

describe('the sums of the series', () => {
  it('are those of the cumulative sum chart of its residuals', () => {
    const [one] = casesOf<Model & { muf: number[] }, { z: number[] }>('sitmuf');
    const output = fullSeries(one?.inputs as Model, one?.inputs.muf ?? []);
    const chart = cusum({
      values: output.periods.map(({ residual }) => residual),
      target: 0,
      standardDeviation: 1,
      referenceValue: 0.5,
      decisionInterval: 4,
      headstart: 0,
    });
    expect(output.periods.map(({ upperSum }) => upperSum)).toEqual(
      chart.points.map(({ upperSum }) => upperSum),
    );
  });
});
