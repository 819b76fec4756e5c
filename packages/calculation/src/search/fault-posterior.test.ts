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
