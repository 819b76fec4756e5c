import { describe, expect, it } from 'vitest';
import type { FaultModel, FaultVariable } from './fault-model.ts';
import { faultPosterior } from './fault-posterior.ts';

const variable = (name: string, ...options: [number, number, number[]][]): FaultVariable => ({
  name,
  options: options.map(([value, weight, signature]) => ({ value, weight, signature })),
});

/** Sum of the weights of all combinations that fit, in all and with each option: by trying every one. */
function enumerate(model: FaultModel) {
  let total = 0;
  const sums = new Map<string, number>();
  const walk = (at: number, rest: readonly number[], weight: number, chosen: readonly string[]) => {
    if (at === model.variables.length) {
      if (rest.some((value) => value !== 0)) return;
      total += weight;
      for (const name of chosen) sums.set(name, (sums.get(name) ?? 0) + weight);
      return;
    }
    walk(at + 1, rest, weight, chosen);
    const one = model.variables[at];
    for (const option of one?.options ?? []) {
      const left = rest.map((value, place) => value - (option.signature[place] ?? 0));
      walk(at + 1, left, weight * option.weight, [...chosen, `${one?.name} ${option.value}`]);
    }
  };
  walk(0, model.residual, 1, []);
  return { total, sums };
}

/** Numbers that look random and are the same on every machine. */
function* scattered(seed: number): Generator<number> {
  let state = seed;
  for (;;) {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    yield state / 2_147_483_648;
  }
}

function madeModel(seed: number): FaultModel {
  const numbers = scattered(seed);
  const next = () => numbers.next().value as number;
  const step = () => Math.floor(next() * 3) - 1;
  const variables = Array.from({ length: 9 }, (_, at) =>
    variable(
      `v${at}`,
      [-1, next() * 0.2, [step(), step(), step()]],
      [1, next() * 0.2, [step() * 20, step(), step()]],
    ),
  );
  return { residual: [step(), step(), step()], variables };
}

describe('faultPosterior', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('agrees with trying every combination, model %i', (seed) => {
    const model = madeModel(seed);
    const { total, sums } = enumerate(model);
    const output = faultPosterior(model);
    if (total === 0) {
      expect(output.evidenceLogarithm).toBeNull();
      return;
    }
    expect(Math.exp(output.evidenceLogarithm ?? Number.NaN)).toBeCloseTo(total, 10);
    for (const { name, value, probability } of output.faults) {
      expect(probability).toBeCloseTo((sums.get(`${name} ${value}`) ?? 0) / total, 10);
    }
    for (const [key, sum] of sums) {
      const [name, value] = key.split(' ');
      const found = output.faults.find(
        (fault) => fault.name === name && fault.value === Number(value),
      );
      expect(found?.probability ?? 0).toBeCloseTo(sum / total, 10);
    }
  });

  it('sums many large faults in sets of two as trying these would, used up ones among them', () => {
    const numbers = scattered(5);
    const next = () => numbers.next().value as number;
    const large = Array.from({ length: 18 }, (_, at) => {
      const pieces = 20 + Math.floor(next() * 6);
      const options: [number, number, number[]][] = [[pieces, next() * 1e-3, [pieces, -pieces]]];
      // Some can be wrong in two ways by much, and some by little as well.
      if (at % 3 === 0) options.push([-pieces - 2, next() * 1e-3, [-pieces - 2, pieces + 2]]);
      if (at % 4 === 0) options.push([1, next() * 0.05, [1, 0]]);
      return variable(`large ${at}`, ...options);
    });
    const small = Array.from({ length: 4 }, (_, at) =>
      variable(`small ${at}`, [-1, next() * 0.05, [-1, at % 2]], [1, next() * 0.05, [1, 0]]),
    );
    const model = { residual: [2, -1], variables: [...large, ...small] };
    const isLarge = ({ signature }: FaultVariable['options'][number]) =>
      signature.some((value) => Math.abs(value) > 4);
    let total = 0;
    const sums = new Map<string, number>();
    const walk = (
      at: number,
      so: { rest: readonly number[]; weight: number; large: number; chosen: readonly string[] },
    ) => {
      if (so.rest.some((value) => Math.abs(value) > 60)) return;
      if (at === model.variables.length) {
        if (so.rest.some((value) => value !== 0)) return;
        total += so.weight;
        for (const name of so.chosen) sums.set(name, (sums.get(name) ?? 0) + so.weight);
        return;
      }
      walk(at + 1, so);
      const one = model.variables[at];
      for (const option of one?.options ?? []) {
        const count = so.large + (isLarge(option) ? 1 : 0);
        if (count > 2) continue;
        walk(at + 1, {
          rest: so.rest.map((value, place) => value - (option.signature[place] ?? 0)),
          weight: so.weight * option.weight,
          large: count,
          chosen: [...so.chosen, `${one?.name} ${option.value}`],
        });
      }
    };
    walk(0, { rest: model.residual, weight: 1, large: 0, chosen: [] });
    const output = faultPosterior(model);
    expect(Math.exp(output.evidenceLogarithm ?? 0) / total).toBeCloseTo(1, 9);
    expect(output.leftOutProbability).toBeLessThan(1e-9);
    for (const [key, sum] of sums) {
      const at = key.lastIndexOf(' ');
      const found = output.faults.find(
        ({ name, value }) => name === key.slice(0, at) && value === Number(key.slice(at + 1)),
      );
      expect(found?.probability ?? 0).toBeCloseTo(sum / total, 9);
    }
  });

  it('finds three large faults among many where two do not explain', () => {
    const many = Array.from({ length: 30 }, (_, at) =>
      variable(`entry ${at}`, [100 + 7 * at, 1e-4, [100 + 7 * at, 0, 0]]),
    );
    const output = faultPosterior({
      residual: [114, 500, -320],
      variables: [
        ...many,
        variable('box', [500, 1e-4, [0, 500, 0]]),
        variable('move', [-320, 1e-4, [0, 0, -320]]),
      ],
    });
    expect(output.stories[0]?.words).toBe('entry 2 +114 and box +500 and move -320');
  });

  it('is the binomial distribution where thousands of faults are alike', () => {
    const [tubes, weight, missing] = [7000, 2e-4, 3];
    const output = faultPosterior({
      residual: [missing],
      variables: Array.from({ length: tubes }, (_, at) =>
        variable(`tube ${at}`, [-1, weight, [1]]),
      ),
    });
    // C(7000, 3) w^3, whatever else is not wrong.
    const sets = (tubes * (tubes - 1) * (tubes - 2)) / 6;
    expect(output.evidenceLogarithm).toBeCloseTo(Math.log(sets) + missing * Math.log(weight), 9);
    expect(output.faults[6999]?.probability).toBeCloseTo(missing / tubes, 12);
    expect(output.leftOutProbability).toBeLessThan(1e-9);
  });

  it('tells a set of five faults where no smaller one fits', () => {
    const output = faultPosterior({
      residual: [1, 1, 1, 1, 1],
      variables: Array.from({ length: 5 }, (_, at) =>
        variable(`v${at}`, [1, 1e-3, [0, 1, 2, 3, 4].map((cell) => (cell === at ? 1 : 0))]),
      ),
    });
    expect(output.stories[0]?.faults.map(({ name }) => name)).toEqual([
      'v0',
      'v1',
      'v2',
      'v3',
      'v4',
    ]);
    expect(output.storiesProbability).toBeCloseTo(1, 9);
  });

  it('finds a set of three faults where no smaller one fits', () => {
    const output = faultPosterior({
      residual: [1, 1, 1],
      variables: [
        variable('a', [1, 1e-3, [1, 0, 0]]),
        variable('b', [1, 1e-3, [0, 1, 0]]),
        variable('c', [1, 1e-3, [0, 0, 1]]),
      ],
    });
    expect(output.stories[0]?.words).toBe('a +1 and b +1 and c +1');
    expect(output.storiesProbability).toBeCloseTo(1, 12);
  });

  it('says that nothing explains a residual which no fault touches', () => {
    const output = faultPosterior({
      residual: [0, 2],
      variables: [variable('a', [1, 0.1, [1, 0]])],
    });
    expect(output).toMatchObject({ evidenceLogarithm: null, noFaultProbability: 0, stories: [] });
    expect(output.words).toContain('unexplained');
  });

  it('gives no fault the whole of it where no fault is possible', () => {
    const output = faultPosterior({ residual: [0], variables: [variable('a', [1, 0, [1]])] });
    expect(output.noFaultProbability).toBe(1);
  });

  it('gives no probability above 1 where rounded parts add up to a little more', () => {
    const option = (value: number, weight: number) => ({ value, weight, signature: [0, -1] });
    const options = [option(0, 4.6531317260858325), option(1, 0.006702014204364116)];
    const output = faultPosterior({ residual: [0, 0], variables: [{ name: 'v0', options }] });
    // The one variable leads away from the residual of nothing, so that nothing is wrong.
    expect(output.noFaultProbability).toBe(1);
  });

  it('carries whole tubes and boxes beside single pieces', () => {
    const { faults } = faultPosterior({
      residual: [20],
      variables: [
        variable('tube not booked', [20, 1e-4, [20]]),
        ...Array.from({ length: 30 }, (_, at) => variable(`piece ${at}`, [1, 1e-3, [1]])),
      ],
    });
    expect(faults[0]).toMatchObject({ name: 'tube not booked', value: 20 });
    expect(faults[0]?.probability).toBeCloseTo(1, 9);
  });

  it('keeps its figures when the evidence is overwhelming', () => {
    const output = faultPosterior({
      residual: [1],
      variables: [variable('a', [1, 1e150, [1]]), variable('b', [1, 1e140, [1]])],
    });
    expect(output.faults[0]?.probability).toBeCloseTo(1, 9);
    expect(output.faults[1]?.probability).toBeCloseTo(1e-10, 18);
  });

  it('refuses a signature of another length and a name that stands twice', () => {
    const short = { residual: [0, 0], variables: [variable('a', [1, 0.1, [1]])] };
    expect(() => faultPosterior(short)).toThrow(
      /variables\.0\.options\.0\.signature.*2 whole numbers/s,
    );
    const twice = {
      residual: [0],
      variables: [variable('a', [1, 0.1, [1]]), variable('a', [1, 0.1, [1]])],
    };
    expect(() => faultPosterior(twice)).toThrow(/variables\.1\.name/);
  });
});
